/// The systolic peak to a fraction of a sample, and how sure a pulse is.
#pragma once

#include <span>

#include "pulse_candidates.hpp"

namespace pulsewright::beats_stage {

/// Position of the peak near `at`, in samples of the wave.
[[nodiscard]] double systolic_peak_near(std::span<const float> wave, std::size_t at, Hertz rate);

/// Meant as the probability that the candidate is a true pulse; not calibrated yet, and far too high where there is no pulse at all.
[[nodiscard]] double pulse_confidence(const PulseCandidate& candidate);

}  // namespace pulsewright::beats_stage
