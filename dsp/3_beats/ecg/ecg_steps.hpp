/// Steps of the base line, which electrodes make that are pulled at.
#pragma once

#include <optional>
#include <vector>

#include "ecg_candidates.hpp"
#include "ecg_track.hpp"

namespace pulsewright::beats_stage {

/// The track with the steps among the candidates taken out, where one of them is taken for a beat or might be. A step is steep, and the level stays on either side of it; a wave returns. In its place the
/// base line goes from one level to the other as a ramp of 0.5 s, and the waves beside it stay.
[[nodiscard]] std::optional<EcgTrack> without_steps(const EcgTrack& track, const EcgCandidates& candidates);

}  // namespace pulsewright::beats_stage
