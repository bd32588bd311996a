/// What several signals of one heart say together.
#pragma once

#include <array>
#include <vector>

#include "ecg_candidates.hpp"
#include "lead_events.hpp"

namespace pulsewright::beats_stage {

/// One row an event: what the signals (a list of sightings each) show there, each held against how far it has been right about the events around. `beat` says which
/// events are believed to be beats so far.
[[nodiscard]] std::vector<std::array<double, fused_features>> fused_evidence(
    const std::vector<LeadEvent>& events, const std::vector<std::vector<Sighting>>& signals,
    const std::vector<bool>& beat, Hertz rate);

/// Logarithm of the odds that an event is a beat.
[[nodiscard]] double fused_log_odds(const std::array<double, fused_features>& evidence);

}  // namespace pulsewright::beats_stage
