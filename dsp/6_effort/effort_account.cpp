#include "effort_account.hpp"

namespace pulsewright {

Intensity intensity_of_rate(BeatsPerMinute rate, BeatsPerMinute base, BeatsPerMinute maximum,
                            const std::array<double, intensity_count - 1>& bounds) {
  int category = 0;
  for (const double bound : bounds)
    if ((rate - base).value() + bound_rounding_bpm >= bound * (maximum - base).value()) ++category;
  return static_cast<Intensity>(category);
}

void account_rates(const RateSeries& rates, const std::vector<EffortCell>& cells, Effort& result) {
  double beats = 0.0;  // rate x microseconds
  std::int64_t measured_us = 0;
  for (const EffortCell& cell : cells) {
    result.duration_us += cell.length_us;
    if (!cell.rate) {
      result.unmeasured_us += cell.length_us;
      continue;
    }
    measured_us += cell.length_us;
    beats += cell.rate->value() * static_cast<double>(cell.length_us);
  }
  if (measured_us > 0) result.mean_rate = BeatsPerMinute{beats / static_cast<double>(measured_us)};
  for (const RateWindow& window : rates.windows)
    if (window.rate && (!result.peak_rate || *result.peak_rate < *window.rate)) result.peak_rate = window.rate;
}

void account_categories(const std::vector<EffortCell>& cells, Effort& result) {
  const BeatsPerMinute maximum = result.maximum->rate;
  result.categories_from_reserve = result.resting.has_value();
  const BeatsPerMinute base = result.resting ? result.resting->rate : BeatsPerMinute{0.0};
  const auto& bounds = result.resting ? reserve_bounds : maximum_bounds;
  std::array<std::int64_t, intensity_count> time{};
  for (const EffortCell& cell : cells)
    if (cell.rate)
      time[static_cast<std::size_t>(intensity_of_rate(*cell.rate, base, maximum, bounds))] += cell.length_us;
  result.category_us = time;
  if (result.resting && result.mean_rate)
    result.mean_reserve_percent = 100.0 * ((*result.mean_rate - base) / (maximum - base));
}

void account_target(const std::vector<EffortCell>& cells, Effort& result) {
  const BeatsPerMinute rounding{bound_rounding_bpm};
  if (result.target) {
    std::int64_t below = 0, in = 0, above = 0;
    for (const EffortCell& cell : cells) {
      if (!cell.rate) continue;
      if (*cell.rate + rounding < result.target->low)
        below += cell.length_us;
      else if (*cell.rate - rounding > result.target->high)
        above += cell.length_us;
      else
        in += cell.length_us;
    }
    result.below_target_us = below;
    result.in_target_us = in;
    result.above_target_us = above;
  }
  if (result.person.own_ceiling) {
    std::int64_t above = 0;
    for (const EffortCell& cell : cells)
      if (cell.rate && *cell.rate - rounding > *result.person.own_ceiling) above += cell.length_us;
    result.above_ceiling_us = above;
  }
}

}  // namespace pulsewright
