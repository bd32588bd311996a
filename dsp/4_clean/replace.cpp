#include "replace.hpp"

#include <algorithm>
#include <cmath>

namespace pulsewright {

namespace {

/// The most rows in a run of flagged ones that are bridged by interpolation; a longer run has no course to follow (ours).
constexpr std::size_t longest_bridge = 4;

bool measured(const Interval& row) { return row.verdict == IntervalVerdict::normal; }

IntervalVerdict verdict_of_row(const Event& event, std::size_t row) {
  if (event.verdict == IntervalVerdict::early_beat && row > 0) return IntervalVerdict::compensatory_pause;
  return event.verdict;
}

/// Straight line between the measured rows on either side of the run [first, last), at each of its rows; one side alone is held.
void interpolate(std::vector<Interval>& rows, std::size_t first, std::size_t last) {
  if (last - first > longest_bridge) return;
  const bool has_left = first > 0 && measured(rows[first - 1]);
  const bool has_right = last < rows.size() && measured(rows[last]);
  if (!has_left && !has_right) return;
  const double left = has_left ? rows[first - 1].original_ms : rows[last].original_ms;
  const double right = has_right ? rows[last].original_ms : left;
  const double steps = static_cast<double>(last - first + 1);
  for (std::size_t i = first; i < last; ++i)
    rows[i].corrected_ms = left + (right - left) * static_cast<double>(i - first + 1) / steps;
}

/// A beat found at the wrong place leaves the sum of its two intervals right: the interpolated values are shifted to keep it.
void keep_sum(std::vector<Interval>& rows, std::size_t first) {
  Interval& a = rows[first];
  Interval& b = rows[first + 1];
  if (!a.corrected_ms || !b.corrected_ms) return;
  const double shift = 0.5 * (a.original_ms + b.original_ms - *a.corrected_ms - *b.corrected_ms);
  *a.corrected_ms += shift;
  *b.corrected_ms += shift;
}

bool needs_interpolation(IntervalVerdict verdict, Correction correction) {
  if (verdict == IntervalVerdict::missed_beat || verdict == IntervalVerdict::extra_beat)
    return correction == Correction::interpolate;
  return verdict == IntervalVerdict::early_beat || verdict == IntervalVerdict::compensatory_pause ||
         verdict == IntervalVerdict::misplaced;
}

/// The first row of an extra beat stands for all of its rows.
void merge(const Event& event, std::vector<Interval>& rows) {
  rows[event.first].merged_rows = static_cast<int>(event.rows);
  for (std::size_t k = 1; k < event.rows; ++k) rows[event.first + k].corrected_ms.reset();
}

void insert_or_delete(const Event& event, std::vector<Interval>& rows) {
  Interval& row = rows[event.first];
  if (event.verdict == IntervalVerdict::missed_beat) {
    row.corrected_ms = row.original_ms / (1 + event.missed_inside);
  } else if (event.verdict == IntervalVerdict::extra_beat && event.rows > 1) {
    row.corrected_ms = 0.0;
    for (std::size_t k = 0; k < event.rows; ++k) *row.corrected_ms += rows[event.first + k].original_ms;
    merge(event, rows);
  }
}

}  // namespace

void apply_events(const std::vector<Event>& events, Correction correction, std::vector<Interval>& rows) {
  for (const Event& event : events) {
    for (std::size_t k = 0; k < event.rows; ++k) {
      Interval& row = rows[event.first + k];
      row.verdict = verdict_of_row(event, k);
      row.corrected_ms.reset();
      row.missed_inside = event.missed_inside;
      row.merged_rows = 1;
      if (row.verdict == IntervalVerdict::normal) row.corrected_ms = row.original_ms;
    }
  }
  if (correction == Correction::leave_out) return;

  if (correction != Correction::interpolate)
    for (const Event& event : events) insert_or_delete(event, rows);
  if (correction != Correction::insert_and_delete)
    for (std::size_t i = 0; i < rows.size();) {
      std::size_t end = i;
      while (end < rows.size() && needs_interpolation(rows[end].verdict, correction)) ++end;
      if (end > i) interpolate(rows, i, end);
      i = std::max(end, i + 1);
    }
  if (correction == Correction::interpolate)
    for (const Event& event : events)
      if (event.verdict == IntervalVerdict::extra_beat && rows[event.first].corrected_ms) merge(event, rows);
  if (correction == Correction::repair)
    for (const Event& event : events)
      if (event.verdict == IntervalVerdict::misplaced && event.rows == 2) keep_sum(rows, event.first);
}

}  // namespace pulsewright
