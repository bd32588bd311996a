// There is no effort of nobody.
// words: effort
#include "pulsewright/effort.hpp"
using namespace pulsewright;
#ifdef CONTROL
Effort skip(const RateSeries& input, const Person& person) { return effort(input, person); }
#else
Effort skip(const RateSeries& input) { return effort(input); }  // refused
#endif
