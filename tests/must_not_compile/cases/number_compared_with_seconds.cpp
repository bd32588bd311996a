// A time is not compared with a bare number.
// words: SecondsTag double
#include "pulsewright/units.hpp"
using namespace pulsewright;
#ifdef CONTROL
bool longer = 8_s > 1.0_s;
#else
bool longer = 8_s > 1.0;  // refused
#endif
