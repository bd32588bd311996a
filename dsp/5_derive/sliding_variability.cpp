#include <fmt/format.h>

#include <algorithm>

#include "pulsewright/error.hpp"
#include "pulsewright/variability.hpp"

namespace pulsewright {

std::vector<VariabilityWindow> sliding_variability(const Intervals& intervals, const SlidingOptions& windows,
                                                   const VariabilityOptions& options) {
  if (!(windows.window.value() > 0.0 && windows.step.value() > 0.0))
    throw Error{ErrorCode::contract,
                fmt::format("sliding_variability: windows of {} s every {} s; both must be above 0",
                            windows.window.value(), windows.step.value())};
  std::vector<VariabilityWindow> result;
  const std::vector<Interval>& rows = intervals.intervals;
  std::size_t first = 0;
  for (std::size_t k = 0;; ++k) {
    const Seconds start = static_cast<double>(k) * windows.step;
    const Span span{start, start + windows.window};
    if (span.end > intervals.duration) return result;
    while (first < rows.size() && rows[first].start < span.start) ++first;
    Intervals inside;
    inside.duration = intervals.duration;
    inside.options = intervals.options;
    inside.provenance = intervals.provenance;
    for (std::size_t i = first; i < rows.size() && rows[i].end <= span.end; ++i) inside.intervals.push_back(rows[i]);
    // A merged interval that the end of the window cuts has lost rows that belong to it.
    while (!inside.intervals.empty()) {
      const auto n = static_cast<std::ptrdiff_t>(inside.intervals.size());
      const auto cut = std::find_if(inside.intervals.begin(), inside.intervals.end(), [&](const Interval& row) {
        return &row - inside.intervals.data() + row.merged_rows > n;
      });
      if (cut == inside.intervals.end()) break;
      inside.intervals.erase(cut, inside.intervals.end());
    }
    result.push_back({span, variability(inside, options)});
  }
}

}  // namespace pulsewright
