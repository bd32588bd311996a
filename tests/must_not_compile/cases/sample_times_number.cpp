// A position is not scaled: that would be a position in another channel's clock.
// words: SampleIndex
#include "pulsewright/units.hpp"
using namespace pulsewright;
#ifdef CONTROL
auto moved = SampleIndex{8} + 2;
#else
auto moved = SampleIndex{8} * 2;  // refused
#endif
