/// How large the beats around a candidate are, for candidates of either wave.
#pragma once

#include <cstddef>
#include <vector>

#include "pulsewright/units.hpp"

namespace pulsewright::beats_stage {

/// For each candidate (positions `at` in samples at `rate`, ascending; sizes beside them): the median, over `reach` seconds to either side, of the
/// largest size in two seconds. Two seconds hold a beat at any rate above 30 beats/min.
[[nodiscard]] std::vector<float> usual_largest(const std::vector<std::size_t>& at, const std::vector<float>& sizes,
                                               Hertz rate, std::size_t reach);

/// For each candidate: the median size of the `reach` beats to either side of it, itself included; 0 when there is no beat at all.
[[nodiscard]] std::vector<float> beat_level(const std::vector<float>& sizes, const std::vector<bool>& is_beat,
                                            std::size_t reach);

}  // namespace pulsewright::beats_stage
