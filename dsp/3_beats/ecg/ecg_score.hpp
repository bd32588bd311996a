/// From the features of a candidate to the odds that it is a beat.
#pragma once

#include <array>
#include <string_view>

#include "ecg_candidates.hpp"

namespace pulsewright::beats_stage {

/// Features of the first pass (no context yet), of the second, which adds the context, and of the third, which adds
/// the shape of whole beats.
inline constexpr std::size_t first_features = 10;
inline constexpr std::size_t context_features = 13;
inline constexpr std::size_t plain_features = 21;
inline constexpr std::size_t shape_features = 2 * plain_features + 1;
/// Of the match in noise.
inline constexpr std::size_t noise_features = 8;
inline constexpr std::size_t all_features = shape_features + 2 * noise_features;

[[nodiscard]] std::array<double, all_features> ecg_features(const EcgCandidate& candidate);
/// What each of them is called, as in `ecg_weights.hpp`.
[[nodiscard]] std::array<std::string_view, all_features> ecg_feature_names();

/// Log-odds that a candidate is a beat, from everything but the context.
[[nodiscard]] double first_log_odds(const EcgCandidate& candidate);
/// The same if it looked just like the person's own complexes.
[[nodiscard]] double first_log_odds_at_best(const EcgCandidate& candidate);
/// From everything but whole shapes.
[[nodiscard]] double context_log_odds(const EcgCandidate& candidate);
/// From everything; of a candidate that is out of the question, what it had before.
[[nodiscard]] double shape_log_odds(const EcgCandidate& candidate);

}  // namespace pulsewright::beats_stage
