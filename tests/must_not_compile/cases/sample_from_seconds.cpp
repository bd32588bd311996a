// From time to samples only by way of a sampling rate.
// words: SampleIndex
#include "pulsewright/units.hpp"
using namespace pulsewright;
#ifdef CONTROL
SampleIndex sample = nearest_sample(8_s, 360_hz);
#else
SampleIndex sample{8_s};  // refused
#endif
