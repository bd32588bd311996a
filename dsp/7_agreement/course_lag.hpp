/// The offset at which two courses of rate go together best, or why there is none to be found.
#pragma once

#include <optional>
#include <string>

#include "pulsewright/rate_study.hpp"
#include "rate_course.hpp"

namespace pulsewright {

struct CourseLag {
  double lag_s = 0;                          ///< to the step of the grid; test's clock minus reference's
  std::optional<double> correlation;         ///< there
  std::optional<double> correlation_before;  ///< at `middle`
  double common_s = 0;                       ///< the most that both know at any offset
  double common_as_is_s = 0;                 ///< at `middle`
  std::string refusal;                       ///< empty: `lag_s` is to be trusted
};

/// Looks on either side of `middle`. Refuses as `align` describes it.
[[nodiscard]] CourseLag find_lag(const RateCourse& reference, const RateCourse& test, Seconds middle,
                                 const AlignmentOptions& options);

}  // namespace pulsewright
