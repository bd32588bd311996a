/// How the lag between two courses of rate changes along a record: hardly, in a step, or all the time.
#pragma once

#include <vector>

#include "rate_course.hpp"

namespace pulsewright {

/// No crystal runs faster or slower than another by more than this share of a million (ours: those of
/// cheap boards are off by 100 ppm at most, and differ by 200).
inline constexpr double most_drift_ppm = 500;

/// What lags along a record look like.
struct LagShape {
  enum class Kind {
    steady,     ///< one offset, or a drift that a crystal may have; or too little tells
    step,       ///< one offset up to a moment and another from there: something was interrupted
    wandering,  ///< the lag moves all along: samples were lost, or a clock is none
  };
  Kind kind = Kind::steady;
  double step_at_s = 0;              ///< by the reference's clock
  double before_s = 0, after_s = 0;  ///< lags on either side of the step
  double lowest_s = 0, highest_s = 0;
};

/// The lag of each stretch of three minutes (five in records of an hour or more), every half of that,
/// looked for as `find_lag` does and left out where that refuses.
[[nodiscard]] std::vector<StretchOffset> lags_along(const RateCourse& reference, const RateCourse& test, Seconds middle,
                                                    const AlignmentOptions& options);

/// Says what the lags look like. Steady unless most of them say otherwise: five or more that keep
/// within 1 s of two levels at least 2 s apart, or that move smoothly over 3 s or more.
[[nodiscard]] LagShape shape_of(const std::vector<StretchOffset>& lags);

}  // namespace pulsewright
