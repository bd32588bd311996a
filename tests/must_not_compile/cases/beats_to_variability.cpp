// Variability is of judged intervals, not of beats as they were found.
// words: BeatTrain Intervals
#include "pulsewright/variability.hpp"
using namespace pulsewright;
#ifdef CONTROL
Variability skip(const Intervals& input) { return variability(input); }
#else
Variability skip(const BeatTrain& input) { return variability(input); }  // refused
#endif
