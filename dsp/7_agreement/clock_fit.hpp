/// How two clocks relate, fitted to rates: offset and drift at which the rates of one side agree with those of the other.
#pragma once

#include <optional>
#include <vector>

#include "rate_at_any_time.hpp"

namespace pulsewright {

/// One rate of the side that is known at some times only.
struct TimedRate {
  double time_s = 0, bpm = 0;
};
[[nodiscard]] std::vector<TimedRate> timed_rates(const RateSeries& rates);

/// Time on the known side's clock = time + shift + drift (time - middle).
struct ClockFit {
  double middle_s = 0;
  double shift_s = 0, drift = 0;
  double shift_error_s = 0, drift_error = 0;  ///< standard errors
  double covariance = 0;                      ///< of both

  [[nodiscard]] double to_known(double time_s) const { return time_s + shift_s + drift * (time_s - middle_s); }
};

/// Least squares with Tukey's biweight, so that rates with a beat too few or too many do not count, and a constant difference between the sides is no offset. Begins within 2 s of
/// `near_s`, where most rates agree. With a drift it looks at twenty minutes in the middle first and then at twice as much each time. Standard errors
/// hold for rates that depend on each other within half a minute. Nothing where fewer than 20 rates can be compared, or when no offset near there serves.
[[nodiscard]] std::optional<ClockFit> fit_clocks(const RateAtAnyTime& known, const std::vector<TimedRate>& rates,
                                                 double near_s, bool with_drift);

/// What a relation of clocks does to the mean absolute difference, against clocks that are `as_is_s` apart.
struct AlignmentGain {
  double bpm = 0;    ///< by how much the mean becomes smaller
  double error = 0;  ///< standard error, over half minutes
};
/// Differences beyond 5 beats/min count as 5: a rate that is wrong says nothing about clocks. Nothing where no rate can be compared both ways.
[[nodiscard]] std::optional<AlignmentGain> gain_of(const RateAtAnyTime& known, const std::vector<TimedRate>& rates,
                                                   const ClockFit& fit, double as_is_s);

}  // namespace pulsewright
