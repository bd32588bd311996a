/// The one place in this stage that transforms to frequency.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace pulsewright::condition_stage {

/// Power of a stretch of even length, mean removed and Hann window applied: bin b, 0 to n/2, is at b * rate / n. Unscaled: only ratios mean
/// something.
std::vector<double> power_spectrum(std::span<const float> values);

}  // namespace pulsewright::condition_stage
