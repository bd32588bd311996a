/// The probability that a candidate is a pulse beat.
#pragma once

#include <array>

#include "pulse_candidates.hpp"

namespace pulsewright::beats_stage {

inline constexpr std::size_t pulse_feature_count = 4;

/// What the confidence is made from: log-odds; likeness and likeness around, as minus the logarithm of what they lack to 1;
/// irregularity.
[[nodiscard]] std::array<double, pulse_feature_count> pulse_features(const PulseCandidate& candidate);

/// Logistic in the features, with a curve of its own for candidates that the best path did not choose.
[[nodiscard]] double pulse_confidence(const PulseCandidate& candidate);

}  // namespace pulsewright::beats_stage
