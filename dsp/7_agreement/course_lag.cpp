#include "course_lag.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "elementary/elementary.hpp"

namespace pulsewright {
namespace {

/// What is slower than this is left out of the correlation: two people on the same treadmill share it.
constexpr Seconds slow_part{60.0};
/// One independent value of a course every so often: about one breath (ours).
constexpr double independent_s = 5.0;
constexpr double standard_errors = 4.0;
/// Another offset, at least so far away, must do worse by at least so many standard errors of Fisher's z. Breathing alone makes side peaks every 2 to 5 s.
constexpr double other_peak_s = 2.0;
constexpr double distinct_errors = 2.0;

struct Peak {
  double lag_s = 0;
  double correlation = -1;
  double second = -1;  ///< best correlation elsewhere
  bool at_end = false;
};

std::int64_t steps_in(double seconds) { return std::lround(seconds / course_step_s); }

Peak best_lag(const RateCourse& reference, const RateCourse& test, std::int64_t middle, std::int64_t reach,
              double least_common_s) {
  std::vector<double> correlations;
  correlations.reserve(static_cast<std::size_t>(2 * reach + 1));
  for (std::int64_t lag = middle - reach; lag <= middle + reach; ++lag) {
    const CourseMatch match = match_at(reference, test, lag);
    correlations.push_back(match.common_s >= least_common_s ? match.correlation : -1.0);
  }
  const auto top = std::max_element(correlations.begin(), correlations.end());
  const auto at = static_cast<std::size_t>(top - correlations.begin());
  Peak peak;
  peak.correlation = *top;
  peak.at_end = at == 0 || at + 1 == correlations.size();
  peak.lag_s = (static_cast<double>(at) + static_cast<double>(middle - reach)) * course_step_s;
  const auto apart = static_cast<std::size_t>(steps_in(other_peak_s));
  for (std::size_t i = 0; i < correlations.size(); ++i) {
    const bool is_peak = (i == 0 || correlations[i] >= correlations[i - 1]) &&
                         (i + 1 == correlations.size() || correlations[i] >= correlations[i + 1]);
    if (is_peak && (i + apart < at || at + apart < i)) peak.second = std::max(peak.second, correlations[i]);
  }
  return peak;
}

double least_correlation_of(const AlignmentOptions& options, double common_s) {
  const double independent = common_s / independent_s;
  if (independent <= 4) return 1;
  return std::max(options.least_correlation, elementary::tanh(standard_errors / std::sqrt(independent - 3)));
}

bool is_distinct(const Peak& peak, double common_s) {
  static constexpr double most = 0.99;
  const auto z = [](double r) { return elementary::atanh(std::clamp(r, -most, most)); };
  return z(peak.correlation) - z(peak.second) > distinct_errors / std::sqrt(common_s / independent_s - 3);
}

}  // namespace

CourseLag find_lag(const RateCourse& reference, const RateCourse& test, Seconds middle,
                   const AlignmentOptions& options) {
  CourseLag found;
  const RateCourse a = without_slow_part(reference, slow_part);
  RateCourse b = without_slow_part(test, slow_part);
  const std::int64_t centre = steps_in(middle.value());
  const CourseMatch here = match_at(a, b, centre);
  found.common_as_is_s = here.common_s;
  if (here.varies) found.correlation_before = here.correlation;

  const double least_s = options.least_common.value();
  const std::int64_t reach = steps_in(options.farthest.value());
  bool varies = false;
  for (std::int64_t lag = -reach; lag <= reach; lag += std::max<std::int64_t>(reach / 8, 1)) {
    const CourseMatch match = match_at(a, b, centre + lag);
    found.common_s = std::max(found.common_s, match.common_s);
    varies = varies || match.varies;
  }
  if (found.common_s < least_s) {
    found.refusal = fmt::format("the two have {:.0f} s in common; {:.0f} s are needed", found.common_s, least_s);
    return found;
  }
  if (!varies) {
    found.refusal = "one of the two does not vary, so there is nothing to align by";
    return found;
  }
  // An offset at which little remains in common would be found by chance.
  const auto best = [&] { return best_lag(a, b, centre, reach, std::max(least_s, found.common_s / 2)); };
  Peak peak = best();
  if (peak.correlation > 0) {
    b = without_slow_part(without_outliers(reference, test, steps_in(peak.lag_s)), slow_part);
    peak = best();
  }
  found.lag_s = peak.lag_s;
  found.correlation = peak.correlation;
  const double needed = least_correlation_of(options, found.common_s);
  if (peak.correlation < needed)
    found.refusal = fmt::format("the courses correlate by {:.2f} at the best offset; {:.2f} are needed over {:.0f} s",
                                peak.correlation, needed, found.common_s);
  else if (peak.at_end)
    found.refusal =
        fmt::format("the correlation still rises at the farthest offset looked at, {:.0f} s", options.farthest.value());
  else if (!is_distinct(peak, found.common_s))
    found.refusal = fmt::format("another offset does nearly as well (correlation {:.2f} and {:.2f})", peak.correlation,
                                peak.second);
  return found;
}

}  // namespace pulsewright
