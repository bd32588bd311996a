/// Values that stand in for flagged intervals.
#pragma once

#include <vector>

#include "explain.hpp"
#include "pulsewright/clean.hpp"

namespace pulsewright {

/// Writes verdicts and corrected values of `events` into `rows`, whose times and originals are already there.
void apply_events(const std::vector<Event>& events, Correction correction, std::vector<Interval>& rows);

}  // namespace pulsewright
