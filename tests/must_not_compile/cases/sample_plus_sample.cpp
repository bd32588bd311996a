// Two positions have a distance but no sum.
// words: SampleIndex
#include "pulsewright/units.hpp"
using namespace pulsewright;
#ifdef CONTROL
auto distance = SampleIndex{8} - SampleIndex{2};
#else
auto sum = SampleIndex{8} + SampleIndex{2};  // refused
#endif
