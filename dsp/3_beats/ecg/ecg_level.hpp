/// How strong a candidate is against the beats around it.
#pragma once

#include <vector>

#include "ecg_candidates.hpp"

namespace pulsewright::beats_stage {

/// Fills `to_level` and `breadth_to_level`: against the median of the twelve beats (candidates with `beat`) to either side.
void measure_against_level(std::vector<EcgCandidate>& candidates);

/// Fills `noise_level`: the background as it usually is among those beats.
void measure_noise_level(std::vector<EcgCandidate>& candidates);

}  // namespace pulsewright::beats_stage
