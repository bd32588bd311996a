#include "repetition.hpp"

#include <algorithm>
#include <cmath>

namespace pulsewright::condition_stage {

namespace {

constexpr double least_rate_hz = 25.0;
constexpr double shortest_lag_s = 0.25;
constexpr double longest_lag_s = 2.0;

/// Sums of values[i] values[i + lag] for lags from 1 on. All lags go through the values side by side, four values at a time, so that no sum waits for itself.
std::vector<double> lagged_products(std::span<const double> values, std::size_t lags) {
  constexpr std::size_t together = 4;
  std::vector<double> products(lags, 0.0);
  std::vector<double> followed_by_zeros(values.size() + together + lags, 0.0);
  std::copy(values.begin(), values.end(), followed_by_zeros.begin());
  double* const sums = products.data();
  for (std::size_t i = 0; i < values.size(); i += together) {
    const double* const now = followed_by_zeros.data() + i;
    const double* const later = now + 1;
    const double first = now[0], second = now[1], third = now[2], fourth = now[3];
    for (std::size_t j = 0; j < lags; ++j)
      sums[j] += (first * later[j] + second * later[j + 1]) + (third * later[j + 2] + fourth * later[j + 3]);
  }
  return products;
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
  // At least a quarter of the stretch must overlap itself.
  const std::size_t lags = std::min(longest + 1, n - std::min(n, n / 4 + 1));
  const std::vector<double> products = lagged_products(values, lags);
  std::vector<double> energy_before(n + 1, 0.0);
  for (std::size_t i = 0; i < n; ++i) energy_before[i + 1] = energy_before[i] + values[i] * values[i];

  double best = 0.0;
  double lowest = 1.0;
  double before = 1.0;
  double here = 1.0;
  for (std::size_t lag = 1; lag <= lags; ++lag) {
    const double energy = std::sqrt(energy_before[n - lag] * (energy_before[n] - energy_before[lag]));
    const double after = energy > 0.0 ? products[lag - 1] / energy : 0.0;
    if (lag > shortest && here > before && here >= after) best = std::max(best, std::min(here, here - lowest));
    lowest = std::min(lowest, here);
    before = here;
    here = after;
  }
  return best;
}

}  // namespace pulsewright::condition_stage
