/// From the times of rows to a constant rate, or to a time for every sample.
#pragma once

#include <string>
#include <vector>

#include "pulsewright/error.hpp"
#include "text_table.hpp"

namespace pulsewright::reading {

struct TimeBase {
  double rate = 0;            ///< Hz
  std::vector<double> times;  ///< empty when uniform; then sample i is at i / rate
  Warnings warnings;
};

/// Decides whether `times` (seconds, the first 0, not falling, at least two different) are uniform.
///
/// They are when every time lies within the resolution of the file's digits, or 1 % of a step, of an even grid. The rate is then the roundest
/// number of hertz that fits all times: steps of 0.008 give 125. Otherwise the times are kept, the rate is one over the mean step outside
/// gaps, and warnings count the gaps (steps above 1.5 times the median; `clock_gaps`) and measure the jitter (`clock_jitter`).
/// Rows that share a time are first spread evenly up to the next time (`times_coarse` when the result is uniform, else `times_repeated`).
/// Throws Error{unreadable} when time never advances.
[[nodiscard]] TimeBase find_time_base(std::vector<double> times, double resolution, const RowLines& lines,
                                      const std::string& file);

}  // namespace pulsewright::reading
