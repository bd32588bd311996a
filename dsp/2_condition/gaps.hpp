/// Stretches without samples.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "pulsewright/units.hpp"

namespace pulsewright::condition_stage {

/// Samples [first, last) are missing.
struct MissingRun {
  std::size_t first;
  std::size_t last;
};

/// The runs of samples that are not finite, in order.
std::vector<MissingRun> find_missing(std::span<const float> values);

/// Fills every run with a straight line between its neighbours; at an end, with the nearest sample there is; with 0 when there is none.
/// Returns the runs longer than `longest_bridge` samples, and runs at an end of any length: those remain gaps.
std::vector<MissingRun> fill_missing(std::span<float> values, const std::vector<MissingRun>& runs,
                                     double longest_bridge);

}  // namespace pulsewright::condition_stage
