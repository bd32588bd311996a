// Beats whose intervals were not judged give no rate.
// words: rate_over_windows
#include "pulsewright/rate.hpp"
using namespace pulsewright;
#ifdef CONTROL
RateSeries skip(const BeatTrain& input, const Intervals& judged) { return rate_over_windows(input, judged); }
#else
RateSeries skip(const BeatTrain& input) { return rate_over_windows(input); }  // refused
#endif
