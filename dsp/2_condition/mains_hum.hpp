/// Is there hum of the mains, and at which frequency?
#pragma once

#include <optional>
#include <span>

#include "pulsewright/units.hpp"

namespace pulsewright::condition_stage {

/// Looks for a line at 50 and at 60 Hz that stands out from its surroundings in the spectrum, in several stretches spread over the signal.
/// Returns the stronger of those found. Nothing when the signal is shorter than 2 s or the line would lie too close to half the rate.
std::optional<Hertz> find_mains_hum(std::span<const float> values, Hertz rate);

}  // namespace pulsewright::condition_stage
