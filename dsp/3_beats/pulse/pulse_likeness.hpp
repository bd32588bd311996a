/// How much the pulses of a stretch are like one another, in shape and in time: what noise is not.
#pragma once

#include <span>
#include <vector>

#include "pulse_candidates.hpp"

namespace pulsewright::beats_stage {

/// Fills `likeness`, `likeness_around` and `irregularity` of every candidate. Those of a candidate that is no beat say how it would fit in among the beats
/// around it. With fewer than three beats, nothing is alike: 0, 0 and 1.
void measure_pulse_likeness(std::span<const float> wave, Hertz rate, std::vector<PulseCandidate>& candidates);

}  // namespace pulsewright::beats_stage
