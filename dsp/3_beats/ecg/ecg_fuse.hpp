/// What several signals of one heart say together.
#pragma once

#include <array>
#include <vector>

#include "ecg_candidates.hpp"
#include "ecg_moments.hpp"

namespace pulsewright::beats_stage {

/// One row a moment: what the signals (a list of sightings each) show there, each held against how far it has been right about the moments around. `beat` says which
/// moments are believed to be beats so far.
[[nodiscard]] std::vector<std::array<double, fused_features>> fused_evidence(
    const std::vector<EcgMoment>& moments, const std::vector<std::vector<Sighting>>& signals,
    const std::vector<bool>& beat, Hertz rate);

/// Logarithm of the odds that a moment is a beat.
[[nodiscard]] double fused_log_odds(const std::array<double, fused_features>& evidence);

}  // namespace pulsewright::beats_stage
