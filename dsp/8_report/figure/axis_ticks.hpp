/// Where the marks of an axis stand and what they say.
#pragma once

#include <string>
#include <vector>

#include "pulsewright/report.hpp"

namespace pulsewright {

/// A stretch of an axis, in its unit.
struct AxisRange {
  double low = 0;
  double high = 1;

  [[nodiscard]] double length() const { return high - low; }
};

struct AxisTick {
  double at = 0;
  std::string label;
  bool wide_only = false;  ///< its label is left out where there is little room
};

/// The smallest of 1, 2 and 5 times a power of ten that cuts the range into at most `most` steps.
[[nodiscard]] double round_step(const AxisRange& range, int most);

/// The range widened to whole steps. A range without length becomes one step to either side.
[[nodiscard]] AxisRange rounded_out(AxisRange range, int most);

/// Marks at whole steps, at most `most` + 1, labelled with the decimals that the step needs.
[[nodiscard]] std::vector<AxisTick> value_ticks(const AxisRange& range, int most, const NumberStyle& style);

/// Marks of a time axis in seconds at round times (1, 2, 5, 10, 15 and 30 s, min, ...), labelled as on a stop watch; every other label is left out
/// where there is little room. At most twelve.
[[nodiscard]] std::vector<AxisTick> clock_ticks(const AxisRange& seconds);

/// The key of the title of an axis with such marks: it names the units that the longest of them has.
[[nodiscard]] const char* clock_title(const AxisRange& seconds);

}  // namespace pulsewright
