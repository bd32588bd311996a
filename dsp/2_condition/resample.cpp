#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numbers>
#include <numeric>

#include "elementary/elementary.hpp"
#include "pulsewright/condition.hpp"

namespace pulsewright {

namespace {

/// Stop-band attenuation of the Kaiser design.
constexpr double stop_band_db = 80.0;
/// The pass band ends at this share of half the lower rate, the stop band begins at half the lower rate.
constexpr double pass_share = 0.85;

/// Modified Bessel function of the first kind, order zero, by its power series.
double bessel_i0(double x) {
  double term = 1.0;
  double sum = 1.0;
  for (int k = 1; term > 1e-17 * sum; ++k) {
    const double factor = x / (2.0 * k);
    term *= factor * factor;
    sum += term;
  }
  return sum;
}

/// A windowed sinc cut into `up` branches, one for each position of an output between two inputs.
struct Polyphase {
  std::int64_t half = 0;                    ///< length of one side, in steps of the fine grid (rate x up)
  std::int64_t taps = 0;                    ///< of a branch
  std::vector<std::vector<double>> branch;  ///< branch[p][j] weighs input sample (first + j)
};

/// The first input within reach of an output at fine position p, 0 <= p < up: the least m with p - m up <= half.
std::int64_t first_input(std::int64_t p, std::int64_t half, std::int64_t up) {
  return half >= p ? -((half - p) / up) : (p - half + up - 1) / up;
}

/// Kaiser's design (Kaiser 1974): beta and length from attenuation and width of the transition.
Polyphase design(std::int64_t up, std::int64_t down) {
  const double narrowest = static_cast<double>(std::max(up, down));
  const double beta = 0.1102 * (stop_band_db - 8.7);
  const double width = std::numbers::pi * (1.0 - pass_share) / narrowest;  // radians a step of the fine grid
  const double cutoff = (1.0 + pass_share) / 2.0 / narrowest;              // in half the fine rate
  Polyphase filter;
  filter.half = static_cast<std::int64_t>(std::ceil((stop_band_db - 7.95) / (2.285 * width) / 2.0));
  filter.taps = 2 * filter.half / up + 1;
  filter.branch.resize(static_cast<std::size_t>(up));
  for (std::int64_t p = 0; p < up; ++p) {
    // An output at fine position p sees inputs at fine positions m up; its branch starts at the first with |m up - p| <= half.
    std::vector<double>& weights = filter.branch[static_cast<std::size_t>(p)];
    const std::int64_t first = first_input(p, filter.half, up);
    double sum = 0.0;
    for (std::int64_t j = 0; j < filter.taps; ++j) {
      const std::int64_t k = p - (first + j) * up;
      double weight = 0.0;
      if (k >= -filter.half && k <= filter.half) {
        const double t = static_cast<double>(k);
        const double edge = t / static_cast<double>(filter.half);
        const double x = std::numbers::pi * cutoff * t;
        const double sinc = k == 0 ? 1.0 : elementary::sin(x) / x;
        weight = sinc * bessel_i0(beta * std::sqrt(1.0 - edge * edge));
      }
      weights.push_back(weight);
      sum += weight;
    }
    for (double& w : weights) w /= sum;  // a constant stays exactly what it was, at every position
  }
  return filter;
}

/// The signal continued beyond its ends by odd reflection; beyond that, held.
double extended(std::span<const float> values, std::int64_t i) {
  const std::int64_t last = static_cast<std::int64_t>(values.size()) - 1;
  const auto at = [&](std::int64_t k) { return static_cast<double>(values[static_cast<std::size_t>(k)]); };
  if (i < 0) return 2.0 * at(0) - at(std::min(-i, last));
  if (i > last) return 2.0 * at(last) - at(std::max<std::int64_t>(2 * last - i, 0));
  return at(i);
}

}  // namespace

std::vector<float> resample(std::span<const float> values, int up, int down) {
  if (up < 1 || down < 1) {
    throw Error{ErrorCode::contract, fmt::format("resample: by {} / {}; both must be at least 1", up, down)};
  }
  const std::int64_t common = std::gcd(up, down);
  const std::int64_t u = up / common;
  const std::int64_t d = down / common;
  if (values.empty() || u == d) return {values.begin(), values.end()};

  constexpr std::int64_t most_steps = 100'000;          // the filter grows with them, to 60 MB
  constexpr std::int64_t most_samples = 1'073'741'824;  // 4 GiB, as much as a recording may have
  const auto samples = static_cast<std::int64_t>(values.size());
  if (std::max(u, d) > most_steps || samples > most_samples / u * d)
    throw Error{
        ErrorCode::contract,
        fmt::format("resample: by {} / {}; in lowest terms neither may be more than {}, nor give more than {} samples",
                    up, down, most_steps, most_samples)};
  const Polyphase filter = design(u, d);
  const auto n = static_cast<std::int64_t>(values.size());
  const std::int64_t n_out = (n * u + d - 1) / d;
  std::vector<float> out(static_cast<std::size_t>(n_out));
  for (std::int64_t k = 0; k < n_out; ++k) {
    const std::int64_t fine = k * d;
    const std::int64_t p = fine % u;
    const std::int64_t first = fine / u + first_input(p, filter.half, u);
    const std::vector<double>& weights = filter.branch[static_cast<std::size_t>(p)];
    double sum = 0.0;
    if (first >= 0 && first + filter.taps <= n) {
      const float* x = values.data() + first;
      for (std::size_t j = 0; j < weights.size(); ++j) sum += weights[j] * static_cast<double>(x[j]);
    } else {
      for (std::size_t j = 0; j < weights.size(); ++j)
        sum += weights[j] * extended(values, first + static_cast<std::int64_t>(j));
    }
    out[static_cast<std::size_t>(k)] = static_cast<float>(sum);
  }
  return out;
}

}  // namespace pulsewright
