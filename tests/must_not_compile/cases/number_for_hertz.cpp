// A bare number is no sampling rate.
// words: double HertzTag
#include "pulsewright/units.hpp"
using namespace pulsewright;
#ifdef CONTROL
auto step = period(Hertz{360.0});
#else
auto step = period(360.0);  // refused
#endif
