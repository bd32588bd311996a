/// The systolic peak to a fraction of a sample.
#pragma once

#include <span>

#include "pulsewright/units.hpp"

namespace pulsewright::beats_stage {

/// Position of the peak near `at`, in samples of the wave.
[[nodiscard]] double systolic_peak_near(std::span<const float> wave, std::size_t at, Hertz rate);

}  // namespace pulsewright::beats_stage
