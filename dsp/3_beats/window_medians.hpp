/// Medians of windows that move along a series.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace pulsewright::beats_stage {

/// Of the windows centred on every `stride`-th value from the first on: the median of the `reach` values to either side and the centre itself, the upper one of an
/// even number where an end of the series cuts a window off. Meant for windows of some tens of values. No NaN.
[[nodiscard]] std::vector<float> window_medians(std::span<const float> values, std::size_t reach,
                                                std::size_t stride = 1);

}  // namespace pulsewright::beats_stage
