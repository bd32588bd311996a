/// What usually stands at a given delay after or before a beat: T and P waves, and the noise floor.
#pragma once

#include <vector>

#include "ecg_candidates.hpp"
#include "ecg_track.hpp"

namespace pulsewright::beats_stage {

/// The strength of every candidate over an upper quantile of the narrow amplitude that the neighbouring beats (candidates
/// with `beat`) have at the same delay. A T wave is as strong as T waves are; an early beat stands out.
[[nodiscard]] std::vector<OverUsual> over_usual(const EcgCandidates& candidates, const EcgTrack& track);

}  // namespace pulsewright::beats_stage
