/// Whether numbers can be intervals between heartbeats, and in which unit.
#pragma once

#include <optional>
#include <vector>

namespace pulsewright::reading {

struct IntervalGuess {
  double median = 0;
  const char* unit = "ms";  ///< `ms` or `s`, as the option --unit says it
};

/// The unit in which the median of the values, all above 0, is an interval between heartbeats: 0.2 to 3 s, which is 20 to 300 beats/min (ours: wide of
/// every heart). Nothing when it is none in either unit, or there are no values.
[[nodiscard]] std::optional<IntervalGuess> guess_intervals(std::vector<double> values);

}  // namespace pulsewright::reading
