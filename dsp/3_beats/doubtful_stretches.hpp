/// Stretches in which what was found is more likely no heart: motion, noise, flutter, a sensor that lies on the table.
#pragma once

#include <vector>

#include "3_beats/ecg/ecg_candidates.hpp"
#include "3_beats/pulse/pulse_candidates.hpp"
#include "pulsewright/beats.hpp"

namespace pulsewright::beats_stage {

/// Marks as doubtful the pulse beats among which (five to either side) the mean confidence is below one half.
void mark_doubtful(std::vector<PulseCandidate>& candidates);
/// Marks as doubtful the ECG beats among which (five to either side) complexes are neither like whole beats of this person, nor clear of their background, nor as large as usual
/// in the signal with the noise whitened.
void mark_doubtful(std::vector<JudgedComplex>& complexes);

/// Adds the stretches of doubtful beats of a train, those with the verdict `unreadable`, to its unreadable ones, each reaching halfway to the beats around it, or to
/// the ends of the recording, and those in which an ECG shows no beat for more than 10 s, and warns when they are a tenth of the recording or more.
void declare_doubtful_stretches(BeatTrain& train);

}  // namespace pulsewright::beats_stage
