// A sampling rate is no duration.
// words: HertzTag SecondsTag
#include "pulsewright/units.hpp"
using namespace pulsewright;
#ifdef CONTROL
auto rate = rate_of(1_s);
#else
auto rate = rate_of(1_hz);  // refused
#endif
