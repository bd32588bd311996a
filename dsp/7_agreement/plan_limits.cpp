#include <cmath>

#include "distributions.hpp"
#include "elementary/elementary.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/paired_agreement.hpp"

namespace pulsewright {

double limits_half_width(double sd, std::size_t count) {
  if (count < 2 || !(sd > 0))
    throw Error{ErrorCode::contract, "limits_half_width: a positive SD and two differences or more are needed"};
  const double n = static_cast<double>(count);
  const double noncentrality = limit_multiple * std::sqrt(n);
  return sd / std::sqrt(n) / 2 *
         (noncentral_student_quantile(0.975, n - 1, noncentrality) -
          noncentral_student_quantile(0.025, n - 1, noncentrality));
}

LimitsPlan plan_limits(double sd, double half_width) {
  constexpr std::size_t most = 1'000'000;
  if (!(sd > 0) || !(half_width > 0))
    throw Error{ErrorCode::contract, "plan_limits: SD and wanted half width must be positive"};
  LimitsPlan plan{.sd = sd, .half_width = half_width};
  const double ratio = normal_95 * sd / half_width;
  const double rough = 3 * (ratio * ratio);
  if (!(rough < static_cast<double>(most)))
    throw Error{ErrorCode::contract, "plan_limits: that width would need more than a million differences"};
  plan.approximate = static_cast<std::size_t>(std::ceil(rough));
  // The half width falls as the number grows.
  std::size_t low = 2, high = 2 * most;
  while (low < high) {
    const std::size_t middle = low + (high - low) / 2;
    if (limits_half_width(sd, middle) <= half_width)
      high = middle;
    else
      low = middle + 1;
  }
  plan.needed = low;
  return plan;
}

}  // namespace pulsewright
