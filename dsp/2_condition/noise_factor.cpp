#include "noise_factor.hpp"

#include <algorithm>
#include <cmath>

namespace pulsewright::condition_stage {

namespace {

/// Slopes of an ECG are taken over this time: about half of the upstroke of a QRS complex.
constexpr double slope_lag_s = 0.010;
/// The measure that counts as clean, and the one that counts as noise.
constexpr double clean_spread = 0.40;
constexpr double noise_spread = 0.62;

/// The autocorrelation runs at about this rate: three times the top of the pulse band.
constexpr double pulse_rate_hz = 25.0;
constexpr double shortest_lag_s = 0.25;
constexpr double longest_lag_s = 2.0;
/// The peak that counts as noise, and the one that counts as clean.
constexpr double noise_peak = 0.30;
constexpr double clean_peak = 0.80;

float between(double value, double zero, double one) {
  return static_cast<float>(std::clamp((value - zero) / (one - zero), 0.0, 1.0));
}

/// The sums for one second, in four interleaved parts so that they need not wait for each other.
struct SlopeSums {
  double absolute = 0;
  double square = 0;
  double count = 0;
};

SlopeSums slope_sums(std::span<const float> x, SampleRange range, std::size_t lag) {
  double absolute[4] = {};
  double square[4] = {};
  const std::size_t last = std::min(range.last, x.size() > lag ? x.size() - lag : 0);
  std::size_t i = range.first;
  const auto add = [&](std::size_t at, std::size_t part) {
    const double d = static_cast<double>(x[at + lag] - x[at]);
    absolute[part] += std::abs(d);
    square[part] += d * d;
  };
  for (; i + 4 <= last; i += 4) {
    for (std::size_t part = 0; part < 4; ++part) add(i + part, part);
  }
  for (; i < last; ++i) add(i, 0);
  return {(absolute[0] + absolute[1]) + (absolute[2] + absolute[3]), (square[0] + square[1]) + (square[2] + square[3]),
          last > range.first ? static_cast<double>(last - range.first) : 0.0};
}

/// The highest peak of the normalised autocorrelation; 0 when there is none.
double repetition(std::span<const double> x, std::size_t shortest, std::size_t longest) {
  double best = 0.0;
  double before = 2.0;
  double here = 2.0;
  for (std::size_t lag = shortest; lag <= longest + 1 && lag + 2 * shortest < x.size(); ++lag) {
    double product = 0.0, early = 0.0, late = 0.0;
    for (std::size_t i = 0; i + lag < x.size(); ++i) {
      product += x[i] * x[i + lag];
      early += x[i] * x[i];
      late += x[i + lag] * x[i + lag];
    }
    const double energy = std::sqrt(early * late);
    const double after = energy > 0.0 ? product / energy : 0.0;
    if (here > before && here >= after) best = std::max(best, here);
    before = here;
    here = after;
  }
  return best;
}

}  // namespace

SampleRange samples_of_second(std::size_t k, std::size_t n, Hertz rate) {
  const auto at = [&](std::size_t second) {
    const double sample = std::ceil(static_cast<double>(second) * rate.value() - 1e-6);
    return std::min(n, static_cast<std::size_t>(sample));
  };
  return {at(k), at(k + 1)};
}

std::vector<float> ecg_noise_factor(std::span<const float> conditioned, Hertz rate) {
  const std::size_t n = conditioned.size();
  const auto seconds = static_cast<std::size_t>(std::ceil(static_cast<double>(n) / rate.value() - 1e-6));
  const auto lag = static_cast<std::size_t>(std::max(1.0, std::round(slope_lag_s * rate.value())));
  std::vector<SlopeSums> sums(seconds);
  for (std::size_t k = 0; k < seconds; ++k) sums[k] = slope_sums(conditioned, samples_of_second(k, n, rate), lag);

  std::vector<float> factor(seconds);
  for (std::size_t k = 0; k < seconds; ++k) {
    SlopeSums around;
    for (std::size_t j = k > 0 ? k - 1 : 0; j < std::min(seconds, k + 2); ++j) {
      around.absolute += sums[j].absolute;
      around.square += sums[j].square;
      around.count += sums[j].count;
    }
    const double spread =
        around.square > 0.0 ? around.absolute * around.absolute / (around.count * around.square) : 1.0;
    factor[k] = between(spread, noise_spread, clean_spread);
  }
  return factor;
}

std::vector<float> pulse_noise_factor(std::span<const float> conditioned, Hertz rate) {
  const std::size_t n = conditioned.size();
  const auto seconds = static_cast<std::size_t>(std::ceil(static_cast<double>(n) / rate.value() - 1e-6));
  const auto stride = static_cast<std::size_t>(std::max(1.0, std::floor(rate.value() / pulse_rate_hz)));
  const double slow_rate = rate.value() / static_cast<double>(stride);
  std::vector<double> slow;
  for (std::size_t i = 0; i < n; i += stride) slow.push_back(static_cast<double>(conditioned[i]));

  const auto shortest = static_cast<std::size_t>(std::max(1.0, std::floor(shortest_lag_s * slow_rate)));
  const auto longest = static_cast<std::size_t>(std::ceil(longest_lag_s * slow_rate));
  std::vector<float> factor(seconds);
  for (std::size_t k = 0; k < seconds; ++k) {
    const std::size_t first = samples_of_second(k > 1 ? k - 2 : 0, slow.size(), Hertz{slow_rate}).first;
    const std::size_t last = samples_of_second(k + 2, slow.size(), Hertz{slow_rate}).last;
    factor[k] =
        between(repetition(std::span{slow}.subspan(first, last - first), shortest, longest), noise_peak, clean_peak);
  }
  return factor;
}

}  // namespace pulsewright::condition_stage
