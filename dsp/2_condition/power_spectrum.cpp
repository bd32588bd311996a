#include "power_spectrum.hpp"

#include <cmath>
#include <complex>
#include <kissfft/kissfft.hh>
#include <numbers>

namespace pulsewright::condition_stage {

std::vector<double> power_spectrum(std::span<const float> values) {
  const std::size_t n = values.size();
  double mean = 0.0;
  for (const float v : values) mean += static_cast<double>(v);
  mean /= static_cast<double>(n);

  std::vector<double> windowed(n);
  for (std::size_t i = 0; i < n; ++i) {
    const double phase = 2.0 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(n);
    windowed[i] = (static_cast<double>(values[i]) - mean) * (0.5 - 0.5 * std::cos(phase));
  }
  std::vector<std::complex<double>> bins(n / 2);
  const kissfft<double> transform{n / 2, false};
  transform.transform_real(windowed.data(), bins.data());

  std::vector<double> power(n / 2 + 1);
  for (std::size_t b = 1; b < n / 2; ++b) power[b] = std::norm(bins[b]);
  power[0] = bins[0].real() * bins[0].real();  // bins[0] packs the two real ones: constant and half the rate
  power[n / 2] = bins[0].imag() * bins[0].imag();
  return power;
}

}  // namespace pulsewright::condition_stage
