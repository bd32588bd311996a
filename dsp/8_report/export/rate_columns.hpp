/// A rate series in few columns, no extreme and no missing window lost.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "pulsewright/report.hpp"

namespace pulsewright {

/// One window, or several that follow each other.
struct RateColumn {
  Span span;                       ///< from the centre of the first window to that of the last
  bool measured = false;           ///< any window has a rate
  int missing = 0;                 ///< windows without one
  double lowest = 0, highest = 0;  ///< rates, in beats/min
  double low = 0, high = 0;        ///< ends of the widest 95 % interval
  double confidence = 0;           ///< the least

  [[nodiscard]] double centre() const { return (span.start.value() + span.end.value()) / 2; }
};

/// One column a window while there are at most `most`, else `most` columns of as equal a count as can be.
[[nodiscard]] std::vector<RateColumn> rate_columns(const RateSeries& rates, std::size_t most);

/// Stretches without a rate on the time base of effort (`effort_cells`); their lengths sum to its unmeasured time.
[[nodiscard]] std::vector<Span> unmeasured_stretches(const RateSeries& rates);

/// The columns as a table.
[[nodiscard]] std::string rate_columns_csv(const std::vector<RateColumn>& columns, const NumberStyle& style);

}  // namespace pulsewright
