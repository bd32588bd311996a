// A time does not become a bare number unasked.
// words: SecondsTag double
#include "pulsewright/units.hpp"
using namespace pulsewright;
#ifdef CONTROL
double length = (8_s).value();
#else
double length = 8_s;  // refused
#endif
