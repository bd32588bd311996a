// A frequency is no heart rate, though both count events in time.
// words: HertzTag BeatsPerMinuteTag
#include "pulsewright/units.hpp"
using namespace pulsewright;
#ifdef CONTROL
auto interval = interval_of(BeatsPerMinute{72.0});
#else
auto interval = interval_of(Hertz{1.2});  // refused
#endif
