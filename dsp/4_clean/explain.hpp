/// The cheapest explanation of a series of intervals: which verdicts account for it with the least strain.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "local_level.hpp"
#include "pulsewright/clean.hpp"

namespace pulsewright {

/// One event of the explanation: `rows` intervals with their verdicts.
struct Event {
  std::size_t first = 0;
  std::size_t rows = 1;
  IntervalVerdict verdict = IntervalVerdict::normal;  ///< of the first row
  int missed_inside = 0;
};

/// Explains `intervals_ms` by a sequence of events without overlap that covers it. `fixed[i]` is a verdict already decided (a gap, a
/// labelled beat): that interval is an event of its own. Deterministic; ties go to the simpler event.
[[nodiscard]] std::vector<Event> explain(std::span<const double> intervals_ms,
                                         const std::vector<std::optional<IntervalVerdict>>& fixed,
                                         const LocalLevels& levels, const CleanOptions& options);

}  // namespace pulsewright
