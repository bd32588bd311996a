#include <fmt/format.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <complex>
#include <numbers>

#include "elementary/elementary.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/interval_spectrum.hpp"
#include "pulsewright/spectrum.hpp"

namespace pulsewright {

namespace {

constexpr std::size_t fewest_beats = 4;
/// Grid points on each side over which a value is spread: the Gaussian is then cut off at 1e-11 of its height with an oversampling of two.
constexpr std::size_t reach = 12;

/// Sums of value[i] * exp(-2 pi i k step t[i]) for k = 0 to `highest`, t from 0: each value is spread over an even grid by a Gaussian, the
/// grid is transformed, and the Gaussian's own transform is divided out (Greengard & Lee 2004).
std::vector<std::complex<double>> uneven_transform(std::span<const double> t, std::span<const double> values,
                                                   double step, std::size_t highest) {
  const std::size_t size =
      std::max<std::size_t>(64, std::bit_ceil(4 * (highest + 1)));  // bins wanted: -highest to highest, twice over
  const auto n = static_cast<double>(size);
  const double pi = std::numbers::pi;
  // Gaussian exp(-(x / spread)^2) in grid steps; for a ratio R = size / (2 highest) of at least 2: spread^2 = reach R / (pi (R - 1/2)).
  const double ratio = n / (2.0 * static_cast<double>(highest + 1));
  const double spread2 = static_cast<double>(reach) * ratio / (pi * (ratio - 0.5));
  std::vector<double> of_steps(reach + 1);
  for (std::size_t k = 0; k <= reach; ++k) of_steps[k] = elementary::exp(-static_cast<double>(k * k) / spread2);
  std::vector<double> grid(size, 0.0);
  const std::size_t last = size - 1;  // the size is a power of two
  for (std::size_t i = 0; i < t.size(); ++i) {
    const double turn = t[i] * step;
    const double place = (turn - std::floor(turn)) * n;
    const auto nearest = static_cast<std::size_t>(std::llround(place));
    // exp(-(off + k)^2 / s) = exp(-off^2 / s) exp(-2 off / s)^k exp(-k^2 / s): two exponentials a value.
    const double off = static_cast<double>(nearest) - place;
    const double middle = values[i] * elementary::exp(-off * off / spread2);
    const double up = elementary::exp(-2.0 * off / spread2);
    grid[nearest & last] += middle;
    double above = middle, below = middle;
    for (std::size_t k = 1; k <= reach; ++k) {
      above *= up;
      below /= up;
      grid[(nearest + k) & last] += above * of_steps[k];
      grid[(nearest + size - k) & last] += below * of_steps[k];
    }
  }
  std::vector<std::complex<double>> bins = fourier_transform(grid);
  bins.resize(highest + 1);
  for (std::size_t k = 0; k <= highest; ++k) {
    const double w = pi * static_cast<double>(k) / n;
    bins[k] /= std::sqrt(pi * spread2) * elementary::exp(-spread2 * w * w);
  }
  return bins;
}

}  // namespace

PowerDensity lomb_scargle_spectrum(const TimedIntervals& intervals, double oversampling) {
  const std::size_t n = intervals.ms.size();
  if (n < fewest_beats || intervals.time_s.size() != n || !(oversampling >= 1.0))
    throw Error{ErrorCode::contract, fmt::format("lomb_scargle_spectrum: {} times, {} intervals, oversampling {}; it "
                                                 "needs {} of both and an oversampling of 1 or more",
                                                 intervals.time_s.size(), n, oversampling, fewest_beats)};
  for (std::size_t i = 1; i < n; ++i)
    if (!(intervals.time_s[i - 1] < intervals.time_s[i]))
      throw Error{ErrorCode::contract, fmt::format("lomb_scargle_spectrum: time {} s after {} s; they must rise",
                                                   intervals.time_s[i], intervals.time_s[i - 1])};
  double mean = 0.0;
  for (const double ms : intervals.ms) mean += ms;
  mean /= static_cast<double>(n);
  std::vector<double> t(n), x(n), ones(n, 1.0);
  for (std::size_t i = 0; i < n; ++i) {
    t[i] = intervals.time_s[i] - intervals.time_s.front();
    x[i] = intervals.ms[i] - mean;
  }
  // n values evenly spread over `length` are n - 1 steps apart: the length that each value stands for is counted in.
  const double length = t.back() * static_cast<double>(n) / static_cast<double>(n - 1);
  const double step = 1.0 / (oversampling * length);
  const auto highest = static_cast<std::size_t>(0.5 * static_cast<double>(n) * oversampling);

  const std::vector<std::complex<double>> of_values = uneven_transform(t, x, step, highest);
  const std::vector<std::complex<double>> of_times = uneven_transform(t, ones, step, 2 * highest);

  PowerDensity result;
  result.first = Hertz{step};
  result.step = Hertz{step};
  result.density_ms2_per_hz.reserve(highest);
  const auto count = static_cast<double>(n);
  for (std::size_t k = 1; k <= highest; ++k) {
    const double c = of_values[k].real(), s = -of_values[k].imag();
    const double c2 = of_times[2 * k].real(), s2 = -of_times[2 * k].imag();
    // Scargle's time shift makes sine and cosine orthogonal over the beats: by half the angle of (c2, s2).
    const double angle = 0.5 * elementary::atan2(s2, c2);
    const double cos_shift = elementary::cos(angle), sin_shift = elementary::sin(angle);
    const double swing = elementary::hypot(c2, s2);
    const double along_cos = c * cos_shift + s * sin_shift, along_sin = s * cos_shift - c * sin_shift;
    const double cos_square = 0.5 * (count + swing), sin_square = 0.5 * (count - swing);
    double power = 0.5 * along_cos * along_cos / cos_square;
    if (sin_square > 1e-9 * count)
      power += 0.5 * along_sin * along_sin / sin_square;  // at half the rate of even beats sines vanish
    // A sinusoid of amplitude A has the periodogram n A^2 / 4 in a cell of 1 / length.
    result.density_ms2_per_hz.push_back(2.0 * power / count * length);
  }
  return result;
}

}  // namespace pulsewright
