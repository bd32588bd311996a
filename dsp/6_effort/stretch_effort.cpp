#include <algorithm>
#include <cmath>

#include "effort_account.hpp"
#include "session_parts.hpp"

namespace pulsewright {

namespace {

constexpr double us_per_second = 1e6;

std::int64_t microseconds(Seconds time) { return std::llround(time.value() * us_per_second); }

/// The parts of the cells that lie inside a stretch. Of a cell that is cut the rate stands still.
void add_cells_within(const std::vector<EffortCell>& cells, std::int64_t from_us, std::int64_t to_us,
                      std::vector<EffortCell>& kept) {
  for (EffortCell cell : cells) {
    const std::int64_t start = std::max(cell.start_us, from_us);
    const std::int64_t end = std::min(cell.start_us + cell.length_us, to_us);
    if (start >= end) continue;
    if (end - start != cell.length_us) {
      cell.rate_at_start.reset();
      cell.rate_at_end.reset();
    }
    cell.start_us = start;
    cell.length_us = end - start;
    kept.push_back(cell);
  }
}

struct RateRange {
  BeatsPerMinute lowest, highest;
};

std::optional<RateRange> range_of(const std::vector<EffortCell>& cells) {
  std::optional<RateRange> range;
  for (const EffortCell& cell : cells) {
    if (!cell.rate) continue;
    if (!range) range = RateRange{*cell.rate, *cell.rate};
    range->lowest = std::min(range->lowest, *cell.rate);
    range->highest = std::max(range->highest, *cell.rate);
  }
  return range;
}

/// Widens intervals by what the unmeasured share may have held.
void widen(StretchEffort& result, const Effort& effort, const RateRange& range) {
  const double share = 1.0 - result.measured_share();
  const double seconds = static_cast<double>(result.unmeasured_us) / us_per_second;
  if (auto& mean = result.mean_reserve_percent) {
    mean->low = (1.0 - share) * mean->low + share * std::min(mean->low, *reserve_percent(effort, range.lowest));
    mean->high = (1.0 - share) * mean->high + share * std::max(mean->high, *reserve_percent(effort, range.highest));
  }
  if (result.in_target_s) result.in_target_s->high += seconds;
  if (result.moderate_or_harder_s) result.moderate_or_harder_s->high += seconds;
  if (auto& weighted = result.weighted_minutes) {
    EffortCell missed;
    missed.length_us = result.unmeasured_us;
    missed.rate = range.highest;
    weighted->high += load_over(std::span(&missed, 1), effort.maximum->rate, std::nullopt).weighted_minutes;
  }
}

}  // namespace

StretchEffort effort_over(const SessionEffort& session, std::span<const Span> stretches) {
  StretchEffort result;
  SessionEffort part;
  part.effort = session.effort;
  Effort& effort = part.effort;
  effort.duration_us = effort.unmeasured_us = 0;
  effort.mean_rate.reset();
  effort.mean_reserve_percent.reset();
  for (const Span& stretch : stretches) {
    const std::int64_t from_us = microseconds(stretch.start), to_us = microseconds(stretch.end);
    result.where.push_back(stretch);
    result.length_us += to_us - from_us;
    add_cells_within(session.cells, from_us, to_us, part.cells);
  }
  account_rates(RateSeries{}, part.cells, effort);
  result.unmeasured_us = result.length_us - (effort.duration_us - effort.unmeasured_us);
  result.mean_rate = effort.mean_rate;
  if (!effort.mean_rate) return result;
  const std::vector<RateLine> lines = rate_lines(part.cells);
  account_target(lines, effort);
  result.below_target_us = effort.below_target_us;
  result.in_target_us = effort.in_target_us;
  result.above_target_us = effort.above_target_us;
  if (!effort.maximum) return result;
  account_categories(lines, effort);
  add_ranges(part);
  result.mean_reserve_percent = part.mean_reserve_percent;
  result.in_target_s = part.in_target_s;
  result.moderate_or_harder_s = part.moderate_or_harder_s;
  result.weighted_minutes = part.weighted_minutes;
  widen(result, effort, *range_of(session.cells));
  return result;
}

}  // namespace pulsewright
