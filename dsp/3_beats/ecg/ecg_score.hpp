/// From the features of a candidate to the odds that it is a beat.
#pragma once

#include <array>
#include <vector>

#include "ecg_candidates.hpp"

namespace pulsewright::beats_stage {

/// Features of the first look (no context yet), of the second, which adds the context, and of the third, which adds the shape of whole beats.
inline constexpr std::size_t first_features = 10;
inline constexpr std::size_t context_features = 13;
inline constexpr std::size_t plain_features = 21;
inline constexpr std::size_t shape_features = 2 * plain_features + 1;
/// Of the match in noise.
inline constexpr std::size_t noise_features = 8;
inline constexpr std::size_t all_features = shape_features + 2 * noise_features;

[[nodiscard]] std::array<double, all_features> ecg_features(const EcgCandidate& candidate);

/// Log-odds that the first look would give to a candidate if it looked just like the person's own complexes.
[[nodiscard]] double first_log_odds_at_best(const EcgCandidate& candidate);

/// Fills `log_odds` from everything but the context, from everything but whole shapes, and from everything; the last only of candidates that are not out of the question.
void score_at_first_look(std::vector<EcgCandidate>& candidates);
void score_in_context(std::vector<EcgCandidate>& candidates);
void score_by_shape(std::vector<EcgCandidate>& candidates);

}  // namespace pulsewright::beats_stage
