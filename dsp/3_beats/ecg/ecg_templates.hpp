/// How like the person's own complexes a candidate looks.
#pragma once

#include <vector>

#include "ecg_candidates.hpp"
#include "ecg_track.hpp"

namespace pulsewright::beats_stage {

/// The best correlation of every candidate with a few templates, of the shapes of those marked as beats.
[[nodiscard]] std::vector<float> likenesses(const EcgCandidates& candidates, const EcgTrack& track);

}  // namespace pulsewright::beats_stage
