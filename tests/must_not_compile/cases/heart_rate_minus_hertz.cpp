// A heart rate and a frequency have no difference.
// words: HertzTag BeatsPerMinuteTag
#include "pulsewright/units.hpp"
using namespace pulsewright;
#ifdef CONTROL
auto rise = 150_bpm - 66_bpm;
#else
auto rise = 150_bpm - 1.1_hz;  // refused
#endif
