/// Stage 2: a stretch of samples -> its power over frequency.
#pragma once

#include <complex>
#include <cstddef>
#include <memory>
#include <span>
#include <vector>

#include "pulsewright/units.hpp"

namespace pulsewright {

/// Power spectra of stretches of one length: mean removed, Hann window applied, zeros added up to the length of the transform.
///
/// Bin b, 0 to padded / 2, is at b * rate / padded. Unscaled: only ratios mean something. The window's main lobe is 4 / length of the rate wide.
/// Not safe to share between threads: the transform's memory is kept from call to call.
class PowerSpectrum {
 public:
  /// Both lengths in samples; `padded` even and at least `length`, which is at least 2; otherwise Error{contract}.
  PowerSpectrum(std::size_t length, std::size_t padded);
  ~PowerSpectrum();
  PowerSpectrum(PowerSpectrum&&) noexcept;
  PowerSpectrum& operator=(PowerSpectrum&&) noexcept;

  /// The power of `length` finite values; valid until the next call. Error{contract} for another number of values.
  [[nodiscard]] std::span<const double> of(std::span<const float> values);
  [[nodiscard]] std::span<const double> of(std::span<const double> values);

  /// Distance of two bins at a sampling rate.
  [[nodiscard]] Hertz bin_width(Hertz rate) const;

 private:
  template <class Number>
  [[nodiscard]] std::span<const double> power_of(std::span<const Number> values);

  struct State;
  std::unique_ptr<State> state_;
};

/// The discrete Fourier transform of real values, their number even and at least 2 (else Error{contract}): bins 0 to half of it, unscaled,
/// X[k] = sum x[n] exp(-2 pi i k n / N).
[[nodiscard]] std::vector<std::complex<double>> fourier_transform(std::span<const double> values);

}  // namespace pulsewright
