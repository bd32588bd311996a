#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "pulsewright/error.hpp"
#include "pulsewright/interval_spectrum.hpp"
#include "pulsewright/spectrum.hpp"

namespace pulsewright {

namespace {

constexpr std::size_t fewest_samples = 8;
/// Mean square of a Hann window.
constexpr double hann_power = 3.0 / 8.0;

}  // namespace

PowerDensity welch_spectrum(std::span<const EvenStretch> stretches, const WelchOptions& options) {
  if (!(options.segment.value() > 0.0 && options.overlap >= 0.0 && options.overlap < 1.0))
    throw Error{ErrorCode::contract,
                fmt::format("welch_spectrum: segments of {} s that overlap by {}; they need a positive length and an "
                            "overlap from 0 to below 1",
                            options.segment.value(), options.overlap)};
  std::size_t longest = 0;
  for (const EvenStretch& stretch : stretches) {
    if (stretch.rate != stretches.front().rate)
      throw Error{ErrorCode::contract, "welch_spectrum: stretches at different rates"};
    longest = std::max(longest, stretch.ms.size());
  }
  if (longest < fewest_samples)
    throw Error{ErrorCode::contract, fmt::format("welch_spectrum: the longest stretch has {} samples, fewer than {}",
                                                 longest, fewest_samples)};
  const Hertz rate = stretches.front().rate;
  const auto wanted = static_cast<std::size_t>(std::llround(samples_in(options.segment, rate)));
  const std::size_t length = std::max(fewest_samples, std::min(wanted, longest)) / 2 * 2;
  const auto overlap = static_cast<std::size_t>(options.overlap * static_cast<double>(length));
  const std::size_t step = std::max<std::size_t>(1, length - overlap);

  PowerSpectrum transform{length, length};
  PowerDensity result;
  result.step = transform.bin_width(rate);
  result.density_ms2_per_hz.assign(length / 2 + 1, 0.0);
  int segments = 0;
  for (const EvenStretch& stretch : stretches)
    for (std::size_t from = 0; from + length <= stretch.ms.size(); from += step) {
      const std::span<const double> power = transform.of(std::span<const double>{stretch.ms}.subspan(from, length));
      for (std::size_t k = 0; k < power.size(); ++k) result.density_ms2_per_hz[k] += power[k];
      ++segments;
    }
  const double scale = 1.0 / (rate.value() * static_cast<double>(length) * hann_power * segments);
  for (std::size_t k = 0; k < result.density_ms2_per_hz.size(); ++k) {
    const bool both_sides = k > 0 && k < length / 2;  // the mirrored half of the spectrum is added
    result.density_ms2_per_hz[k] *= both_sides ? 2.0 * scale : scale;
  }
  return result;
}

}  // namespace pulsewright
