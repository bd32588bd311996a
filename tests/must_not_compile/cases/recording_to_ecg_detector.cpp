// Detectors take conditioned signals, not raw channels.
// words: Channel Signal
#include "pulsewright/beats.hpp"
using namespace pulsewright;
#ifdef CONTROL
BeatTrain skip(const std::vector<Signal>& input) { return find_ecg_beats(input, 60_s); }
#else
BeatTrain skip(const std::vector<Channel>& input) { return find_ecg_beats(input, 60_s); }  // refused
#endif
