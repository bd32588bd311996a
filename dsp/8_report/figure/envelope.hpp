/// Long signals in few columns, no extreme lost.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace pulsewright {

/// What lies in one column: samples [first, last).
struct EnvelopeColumn {
  std::size_t first = 0, last = 0;
  std::size_t lowest_at = 0, highest_at = 0;  ///< positions of the extremes; meaningless when nothing was recorded
  float lowest = 0, highest = 0;
  std::size_t missing = 0;  ///< samples that are NaN

  [[nodiscard]] bool empty() const { return missing == last - first; }
};

/// Cuts samples into at most `columns` columns of as equal a size as can be, and finds the extremes of each. Every sample is in exactly one column. Fewer
/// samples than columns: one column a sample.
[[nodiscard]] std::vector<EnvelopeColumn> envelope(std::span<const float> values, std::size_t columns);

}  // namespace pulsewright
