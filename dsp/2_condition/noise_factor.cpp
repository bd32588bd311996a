#include "noise_factor.hpp"

#include <algorithm>
#include <cmath>

#include "repetition.hpp"

namespace pulsewright::condition_stage {

namespace {

/// Slopes of an ECG are taken over this time: about half of the upstroke of a QRS complex.
constexpr double slope_lag_s = 0.010;
/// The measure that counts as clean, and the one that counts as noise.
constexpr double clean_spread = 0.30;
constexpr double noise_spread = 0.60;

/// The peak that counts as noise, and the one that counts as clean.
constexpr double noise_peak = 0.20;
constexpr double clean_peak = 0.70;

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

}  // namespace

std::size_t seconds_in(std::size_t n, Hertz rate) {
  return static_cast<std::size_t>(std::max(1.0, std::ceil(static_cast<double>(n) / rate.value() - 1e-6)));
}

SampleRange samples_of_second(std::size_t k, std::size_t n, Hertz rate) {
  const auto at = [&](std::size_t second) {
    const double sample = std::ceil(static_cast<double>(second) * rate.value() - 1e-6);
    return std::min(n, static_cast<std::size_t>(sample));
  };
  return {at(k), at(k + 1)};
}

std::vector<float> ecg_noise_factor(std::span<const float> conditioned, Hertz rate) {
  const std::size_t n = conditioned.size();
  const std::size_t seconds = seconds_in(n, rate);
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
  const Thinned slow = thin(conditioned, rate);
  const std::size_t n = slow.values.size();
  std::vector<float> factor(seconds_in(conditioned.size(), rate));
  for (std::size_t k = 0; k < factor.size(); ++k) {
    const std::size_t first = samples_of_second(k > 1 ? k - 2 : 0, n, slow.rate).first;
    const std::size_t last = samples_of_second(k + 2, n, slow.rate).last;
    factor[k] =
        between(repetition(std::span{slow.values}.subspan(first, last - first), slow.rate), noise_peak, clean_peak);
  }
  return factor;
}

}  // namespace pulsewright::condition_stage
