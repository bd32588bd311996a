#include <algorithm>
#include <cmath>

#include "elementary/elementary.hpp"
#include "pulsewright/maximum.hpp"

namespace pulsewright {

namespace {

/// The value below which a share `p` of a standard normal distribution lies, by halving the interval.
double normal_quantile(double p) {
  double low = -8.0, high = 8.0;
  constexpr int halvings = 60;
  for (int i = 0; i < halvings; ++i) {
    const double middle = 0.5 * (low + high);
    (0.5 * elementary::erfc(-middle / std::sqrt(2.0)) < p ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace

std::vector<BeatsPerMinute> likely_maxima(const MaximumRate& maximum, BeatsPerMinute floor) {
  if (!maximum.sd_bpm) return {std::max(maximum.rate, floor)};
  std::vector<BeatsPerMinute> values;
  for (int k = 0; k < maximum_draws; ++k) {
    const double z = normal_quantile((k + 0.5) / maximum_draws);
    values.push_back(std::max(floor, maximum.rate + z * BeatsPerMinute{*maximum.sd_bpm}));
  }
  return values;
}

}  // namespace pulsewright
