/// The course of heart rate on an even grid, for finding how two clocks relate.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "pulsewright/rate_study.hpp"

namespace pulsewright {

/// Step of the grid, in seconds.
inline constexpr double course_step_s = 0.25;

/// Value k is at (first + k) steps. Where nothing is known `weights` is 0 and the value too, else the weight is 1.
struct RateCourse {
  std::int64_t first = 0;
  double density = 1;  ///< share of the grid that can be known at all: below 1 where a series is kept at its own times
  std::vector<double> values;
  std::vector<double> weights;

  [[nodiscard]] std::int64_t end() const { return first + static_cast<std::int64_t>(values.size()); }
};

/// How the times between the windows of a series are filled.
enum class BetweenWindows {
  straight_lines,
  left_out,  ///< the course is known at the windows' middles alone
};

/// From beats where there are some, each corrected interval at its middle and straight lines between; else from the windows. With `smooth` a course from beats is at each moment
/// the rate over that long around it, 60 (N - 1) / (last - first), as windows are.
[[nodiscard]] RateCourse course_of(const RateSide& side, std::optional<Seconds> smooth, BetweenWindows between);

/// The course minus its running mean over `span`, known values only. Values
/// beside which less than a third of the span is known become unknown.
[[nodiscard]] RateCourse without_slow_part(const RateCourse& course, Seconds span);

/// The test without the values that, read `lag` steps later, differ from the reference by more than four robust SDs, and 5 beats/min, from the usual difference: a few wrong rates shall not
/// decide how clocks relate.
[[nodiscard]] RateCourse without_outliers(const RateCourse& reference, const RateCourse& test, std::int64_t lag);

/// How two courses go together when the test is read `lag` steps later.
struct CourseMatch {
  double correlation = 0;
  double common_s = 0;  ///< time that both know
  bool varies = false;  ///< both have some spread
};
[[nodiscard]] CourseMatch match_at(const RateCourse& reference, const RateCourse& test, std::int64_t lag);

}  // namespace pulsewright
