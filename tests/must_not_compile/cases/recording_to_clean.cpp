// Beats must be found before intervals are judged.
// words: Recording BeatTrain
#include "pulsewright/clean.hpp"
using namespace pulsewright;
#ifdef CONTROL
Intervals skip(const BeatTrain& input) { return clean(input); }
#else
Intervals skip(const Recording& input) { return clean(input); }  // refused
#endif
