/// A straight line through offsets that were found in stretches, some of them wrong.
#pragma once

#include <optional>
#include <vector>

#include "pulsewright/rate_study.hpp"

namespace pulsewright {

/// Offset in seconds at reference time t: offset + slope t.
struct OffsetLine {
  double offset = 0, slope = 0;
  std::optional<double> error_ppm, offset_error;  ///< standard errors; of the offset at time 0
  std::optional<double> error_at_middle;          ///< of the offset in the middle of the stretches
};

/// Fewer stretches give no line.
inline constexpr std::size_t fewest_for_a_line = 4;

/// Median of the slopes of all pairs, and of what is left (Theil 1950, Sen 1968). Standard errors as of least squares with an SD of 1.4826 times the
/// median absolute residual. Nothing for fewer than four stretches.
[[nodiscard]] std::optional<OffsetLine> line_through(const std::vector<StretchOffset>& stretches);

/// `values` must not be empty; of an even number the mean of the two in the middle.
[[nodiscard]] double median_of(std::vector<double> values);

}  // namespace pulsewright
