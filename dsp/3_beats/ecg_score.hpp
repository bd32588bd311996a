/// From the features of a candidate to the odds that it is a beat.
#pragma once

#include <array>
#include <vector>

#include "ecg_candidates.hpp"

namespace pulsewright::beats_stage {

/// Features of the first look (no context yet), and of the second, which adds the context.
inline constexpr std::size_t first_features = 10;
inline constexpr std::size_t all_features = 13;

[[nodiscard]] std::array<double, all_features> ecg_features(const EcgCandidate& candidate);

/// Fills `log_odds` from everything but the context, and from everything.
void score_at_first_look(std::vector<EcgCandidate>& candidates);
void score_in_context(std::vector<EcgCandidate>& candidates);

}  // namespace pulsewright::beats_stage
