#include "pulsewright/clean.hpp"

namespace pulsewright {

std::vector<NormalInterval> normal_series(const Intervals& intervals) {
  std::vector<NormalInterval> series;
  const std::vector<Interval>& rows = intervals.intervals;
  bool touches = false;  // whether the last entry ends where the next row starts
  for (std::size_t i = 0; i < rows.size();) {
    const Interval& row = rows[i];
    if (!row.corrected_ms) {
      touches = false;
      ++i;
      continue;
    }
    const auto covered = static_cast<std::size_t>(row.merged_rows);
    const Seconds end = rows[i + covered - 1].end;
    const int parts = 1 + row.missed_inside;
    double measured_ms = 0.0;
    for (std::size_t k = 0; k < covered; ++k) measured_ms += rows[i + k].original_ms;
    const bool merged = row.verdict == IntervalVerdict::extra_beat && *row.corrected_ms == measured_ms;
    const bool replaced = row.verdict != IntervalVerdict::normal && !merged;
    for (int k = 0; k < parts; ++k) {
      const Seconds from = row.start + (static_cast<double>(k) / parts) * (end - row.start);
      const Seconds to = k + 1 == parts ? end : row.start + (static_cast<double>(k + 1) / parts) * (end - row.start);
      series.push_back({from, to, *row.corrected_ms, replaced, touches});
      touches = true;
    }
    i += covered;
  }
  return series;
}

}  // namespace pulsewright
