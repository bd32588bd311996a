/// A figure of one row each: a value with its interval, all on one scale.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "axis_ticks.hpp"
#include "figure.hpp"

namespace pulsewright {

struct RangeRow {
  std::string name;
  std::string said;  ///< the value in words, at the right end of the row
  std::optional<double> value, low, high;
  /// A narrower interval inside the other (quartiles inside the whole range); drawn darker.
  std::optional<double> inner_low, inner_high;
};

struct RangeBand {
  double low = 0, high = 0;
  std::string name;  ///< for the legend
};

/// Rows under one another; the scale stands below. `band` shades a stretch of the scale in every row. Nothing is drawn in a row without a value but its name.
[[nodiscard]] Figure range_rows_figure(const std::vector<RangeRow>& rows, const AxisRange& scale,
                                       const std::string& scale_title, const std::optional<RangeBand>& band,
                                       const Words& words);

}  // namespace pulsewright
