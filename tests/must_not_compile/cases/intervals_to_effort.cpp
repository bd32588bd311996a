// Effort is of a rate series, not of intervals.
// words: Intervals RateSeries
#include "pulsewright/effort.hpp"
using namespace pulsewright;
#ifdef CONTROL
Effort skip(const RateSeries& input, const Person& person) { return effort(input, person); }
#else
Effort skip(const Intervals& input, const Person& person) { return effort(input, person); }  // refused
#endif
