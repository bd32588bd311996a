// A rate and a time do not add.
// words: HertzTag SecondsTag
#include "pulsewright/units.hpp"
using namespace pulsewright;
#ifdef CONTROL
auto sum = 360_hz + 8_hz;
#else
auto sum = 360_hz + 8_s;  // refused
#endif
