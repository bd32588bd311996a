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

void account_categories(std::span<const RateLine> lines, Effort& result) {
  const BeatsPerMinute maximum = result.maximum->rate;
  result.categories_from_reserve = result.resting.has_value();
  const BeatsPerMinute base = result.resting ? result.resting->rate : BeatsPerMinute{0.0};
  const auto& bounds = result.resting ? reserve_bounds : maximum_bounds;
  std::array<std::int64_t, intensity_count> time{};
  BeatsPerMinute low = no_lower_bound;
  for (std::size_t k = 0; k < time.size(); ++k) {
    const BeatsPerMinute high = k < bounds.size() ? from_bound(base + bounds[k] * (maximum - base)) : no_upper_bound;
    time[k] = time_between(lines, low, high);
    low = high;
  }
  result.category_us = time;
  if (result.resting && result.mean_rate)
    result.mean_reserve_percent = 100.0 * ((*result.mean_rate - base) / (maximum - base));
}

void account_target(std::span<const RateLine> lines, Effort& result) {
  if (result.target) {
    const BeatsPerMinute low = from_bound(result.target->low), high = past_bound(result.target->high);
    result.below_target_us = time_between(lines, no_lower_bound, low);
    result.in_target_us = time_between(lines, low, high);
    result.above_target_us = time_between(lines, high, no_upper_bound);
  }
  if (result.person.own_ceiling)
    result.above_ceiling_us = time_between(lines, past_bound(*result.person.own_ceiling), no_upper_bound);
}

}  // namespace pulsewright
