// Beats must be found and intervals judged before there is a rate.
// words: Recording BeatTrain
#include "pulsewright/rate.hpp"
using namespace pulsewright;
#ifdef CONTROL
RateSeries skip(const BeatTrain& input, const Intervals& judged) { return rate_over_windows(input, judged); }
#else
RateSeries skip(const Recording& input, const Intervals& judged) {
  return rate_over_windows(input, judged);  // refused
}
#endif
