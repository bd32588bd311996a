#include "repetition.hpp"

#include <algorithm>
#include <cmath>

namespace pulsewright::condition_stage {

namespace {

constexpr double least_rate_hz = 25.0;
constexpr double shortest_lag_s = 0.25;
constexpr double longest_lag_s = 2.0;

/// Sum of a[i] b[i], in four interleaved parts so that they need not wait for each other.
double dot(const double* a, const double* b, std::size_t n) {
  double sum[4] = {};
  std::size_t i = 0;
  for (; i + 4 <= n; i += 4) {
    for (std::size_t part = 0; part < 4; ++part) sum[part] += a[i + part] * b[i + part];
  }
  for (; i < n; ++i) sum[0] += a[i] * b[i];
  return (sum[0] + sum[1]) + (sum[2] + sum[3]);
}

}  // namespace

Thinned thin(std::span<const float> values, Hertz rate) {
  const auto stride = static_cast<std::size_t>(std::max(1.0, std::floor(rate.value() / least_rate_hz)));
  Thinned thinned{{}, rate / static_cast<double>(stride)};
  thinned.values.reserve(values.size() / stride + 1);
  for (std::size_t i = 0; i < values.size(); i += stride) thinned.values.push_back(static_cast<double>(values[i]));
  return thinned;
}

double repetition(std::span<const double> values, Hertz rate) {
  const std::size_t n = values.size();
  const auto shortest = static_cast<std::size_t>(std::max(1.0, std::floor(samples_in(Seconds{shortest_lag_s}, rate))));
  const auto longest = static_cast<std::size_t>(std::ceil(samples_in(Seconds{longest_lag_s}, rate)));
  std::vector<double> energy_before(n + 1, 0.0);
  for (std::size_t i = 0; i < n; ++i) energy_before[i + 1] = energy_before[i] + values[i] * values[i];

  double best = 0.0;
  double lowest = 1.0;
  double before = 1.0;
  double here = 1.0;
  // At least a quarter of the stretch must overlap itself.
  for (std::size_t lag = 1; lag <= longest + 1 && lag + n / 4 < n; ++lag) {
    const std::size_t overlap = n - lag;
    const double energy = std::sqrt(energy_before[overlap] * (energy_before[n] - energy_before[lag]));
    const double after = energy > 0.0 ? dot(values.data(), values.data() + lag, overlap) / energy : 0.0;
    if (lag > shortest && here > before && here >= after) best = std::max(best, std::min(here, here - lowest));
    lowest = std::min(lowest, here);
    before = here;
    here = after;
  }
  return best;
}

}  // namespace pulsewright::condition_stage
