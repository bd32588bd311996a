/// Adding up the time of a rate's course.
#pragma once

#include "pulsewright/effort.hpp"
#include "rate_lines.hpp"

namespace pulsewright {

/// A rate this close below a bound counts as at it: bounds such as 66 + 0.6 x 139 are only known to the last binary digit.
inline constexpr double bound_rounding_bpm = 1e-9;

/// The category of a rate, with the bounds as rates: base + bound x (maximum - base).
[[nodiscard]] Intensity intensity_of_rate(BeatsPerMinute rate, BeatsPerMinute base, BeatsPerMinute maximum,
                                          const std::array<double, intensity_count - 1>& bounds);

/// Fills duration, unmeasured time, mean and peak of `result` from the rates.
void account_rates(const RateSeries& rates, const std::vector<EffortCell>& cells, Effort& result);
/// Fills time per category and mean share of reserve; needs `result.maximum`.
void account_categories(std::span<const RateLine> lines, Effort& result);
/// Fills time below, in and above the target, where there is one, and above the person's own ceiling.
void account_target(std::span<const RateLine> lines, Effort& result);

/// The lowest rate that counts as at a lower bound, and the lowest that counts as above an upper one.
[[nodiscard]] inline BeatsPerMinute from_bound(BeatsPerMinute low) { return low - BeatsPerMinute{bound_rounding_bpm}; }
[[nodiscard]] inline BeatsPerMinute past_bound(BeatsPerMinute high) {
  return high + BeatsPerMinute{bound_rounding_bpm};
}

}  // namespace pulsewright
