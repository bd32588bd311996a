/// Noise and hum of a channel from its spectrum.
#pragma once

#include <optional>
#include <vector>

#include "pulsewright/sensor_grade.hpp"

namespace pulsewright {

/// Mean-free power of each bin, scaled so that white noise of variance v has v in every bin; medians over stretches.
struct NoiseSpectrum {
  std::vector<double> density;
  double bin_hz = 0;
  double bins_per_sample = 0;  ///< twice the sum over bins, times this, is a variance

  /// White noise RMS that the density between two frequencies amounts to over the whole band; nothing where no bin lies between.
  [[nodiscard]] std::optional<double> white_rms(double low_hz, double high_hz) const;
};

/// Of stretches of 4 s without missing samples; nothing for fewer than two of them or below 16 Hz.
[[nodiscard]] std::optional<NoiseSpectrum> noise_spectrum(const Channel& channel);

/// The stronger hum that stands out of its surroundings by more than six times, where it does not fold into the wave itself.
[[nodiscard]] std::optional<Hum> find_hum(const NoiseSpectrum& spectrum, const Channel& channel);

/// Where a frequency is seen after sampling.
[[nodiscard]] Hertz folded(Hertz frequency, Hertz rate);

}  // namespace pulsewright
