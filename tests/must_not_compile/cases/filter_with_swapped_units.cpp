// A filter's edge is a frequency, not a time constant.
// words: HertzTag SecondsTag
#include "pulsewright/condition.hpp"
using namespace pulsewright;
#ifdef CONTROL
auto filter = butterworth_lowpass(2, 8_hz, 125_hz);
#else
auto filter = butterworth_lowpass(2, 125_ms, 125_hz);  // refused
#endif
