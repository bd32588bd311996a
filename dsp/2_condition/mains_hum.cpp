#include "mains_hum.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <vector>

#include "pulsewright/median.hpp"
#include "pulsewright/spectrum.hpp"

namespace pulsewright::condition_stage {

namespace {

/// The two frequencies of public mains (IEC 60038).
constexpr std::array<double, 2> mains_hz{50.0, 60.0};
/// A stretch is at least this long, for a resolution of a quarter of a hertz.
constexpr double stretch_s = 4.0;
/// Shorter signals are not judged.
constexpr double shortest_s = 2.0;
constexpr std::size_t stretches = 8;
/// The line is looked for this far around the nominal frequency; mains and sampling clocks stray by less.
constexpr double line_half_width_hz = 0.5;
/// Its surroundings: this far on both sides.
constexpr double near_hz = 1.5;
constexpr double far_hz = 6.0;
/// How many times the median power of the surroundings the line must have, in the median stretch: 13 dB. Noise alone reaches 5 at most,
/// the harmonics of a steady rhythm about 10 (measured on the development records).
constexpr double least_ratio = 20.0;

/// Peak power around `centre` over the median of its surroundings; 0 when there is nothing to compare with.
double line_ratio(std::span<const double> power, double bin_hz, double centre) {
  double peak = 0.0;
  std::vector<double> around;
  for (std::size_t b = 1; b < power.size(); ++b) {
    const double distance = std::abs(static_cast<double>(b) * bin_hz - centre);
    if (distance <= line_half_width_hz) peak = std::max(peak, power[b]);
    if (distance >= near_hz && distance <= far_hz) around.push_back(power[b]);
  }
  if (around.empty()) return 0.0;
  const double floor = upper_median(std::span(around));
  return floor > 0.0 ? peak / floor : 0.0;
}

}  // namespace

std::optional<Hertz> find_mains_hum(std::span<const float> values, Hertz rate) {
  const std::size_t n = values.size();
  if (static_cast<double>(n) < samples_in(Seconds{shortest_s}, rate)) return std::nullopt;
  const std::size_t wanted = std::bit_ceil(static_cast<std::size_t>(std::ceil(samples_in(Seconds{stretch_s}, rate))));
  const std::size_t length = std::min(wanted, std::bit_floor(n));
  const double bin_hz = rate.value() / static_cast<double>(length);
  const std::size_t count = std::min(stretches, (n - 1) / length + 1);

  PowerSpectrum spectrum{length, length};
  std::array<std::vector<double>, mains_hz.size()> ratios;
  for (std::size_t s = 0; s < count; ++s) {
    const std::size_t from = count == 1 ? 0 : (n - length) * s / (count - 1);
    const std::span<const double> power = spectrum.of(values.subspan(from, length));
    for (std::size_t m = 0; m < mains_hz.size(); ++m) {
      if (mains_hz[m] + near_hz >= rate.value() / 2.0) continue;
      ratios[m].push_back(line_ratio(power, bin_hz, mains_hz[m]));
    }
  }
  std::optional<Hertz> found;
  double best = least_ratio;
  for (std::size_t m = 0; m < mains_hz.size(); ++m) {
    if (ratios[m].empty()) continue;
    const double ratio = upper_median(std::span(ratios[m]));
    if (ratio >= best) {
      best = ratio;
      found = Hertz{mains_hz[m]};
    }
  }
  return found;
}

}  // namespace pulsewright::condition_stage
