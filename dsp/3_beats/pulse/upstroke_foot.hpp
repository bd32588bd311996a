/// Where a pulse begins: the foot of its upstroke.
#pragma once

#include <cstddef>
#include <optional>
#include <span>

#include "pulsewright/units.hpp"

namespace pulsewright::beats_stage {

/// Position of the foot before the peak at `peak`, in samples of an upright wave, by intersecting tangents (common practice): where the tangent at the steepest point of the upstroke
/// meets the height of the lowest point since `previous`, the peak before. Nothing where the wave does not rise to the peak, or `previous` is not before it.
[[nodiscard]] std::optional<double> upstroke_foot(std::span<const float> wave, std::size_t previous, std::size_t peak,
                                                  Hertz rate);

}  // namespace pulsewright::beats_stage
