// The arguments of a crossing cannot change places.
// words: HertzTag SecondsTag
#include "pulsewright/units.hpp"
using namespace pulsewright;
#ifdef CONTROL
auto sample = nearest_sample(1_s, 360_hz);
#else
auto sample = nearest_sample(360_hz, 1_s);  // refused
#endif
