/// How strong a candidate is against the beats around it.
#pragma once

#include <vector>

#include "ecg_candidates.hpp"

namespace pulsewright::beats_stage {

/// Against the median of the twelve beats (candidates with `beat`) to either side.
[[nodiscard]] std::vector<ToLevel> levels_of(const EcgCandidates& candidates);

/// The background as it usually is among those beats.
[[nodiscard]] std::vector<float> noise_levels_of(const EcgCandidates& candidates);

}  // namespace pulsewright::beats_stage
