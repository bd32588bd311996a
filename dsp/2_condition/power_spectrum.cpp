// The one place that transforms to frequency.
#include <fmt/format.h>

#include <cmath>
#include <complex>
#include <kissfft/kissfft.hh>
#include <numbers>

#include "elementary/elementary.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/spectrum.hpp"

using pulsewright::elementary::Complex;
using pulsewright::elementary::turn;

// The library's own factors are sines of the C library. These two members are the same but for that.

template <>
kissfft<double>::kissfft(const std::size_t nfft, const bool inverse) : _nfft(nfft), _inverse(inverse) {
  const double step = (inverse ? 2 : -2) * std::numbers::pi / static_cast<double>(nfft);
  for (std::size_t i = 0; i < nfft; ++i) _twiddles.push_back(turn(static_cast<double>(i) * step));
  std::size_t left = nfft, radix = 4;  // fours, then twos, threes, fives and so on
  do {
    while (left % radix != 0) {
      radix = radix == 4 ? 2 : radix == 2 ? 3 : radix + 2;
      if (radix * radix > left) radix = left;
    }
    left /= radix;
    _stageRadix.push_back(radix);
    _stageRemainder.push_back(left);
  } while (left > 1);
}

template <>
void kissfft<double>::transform_real(const double* const from, Complex* const to) const {
  const std::size_t n = _nfft;
  transform(reinterpret_cast<const Complex*>(from), to);
  to[0] = {to[0].real() + to[0].imag(), to[0].real() - to[0].imag()};
  const Complex half_step = turn((_inverse ? std::numbers::pi : -std::numbers::pi) / static_cast<double>(n));
  for (std::size_t k = 1; 2 * k < n; ++k) {
    const Complex a = to[k], b = std::conj(to[n - k]);
    const Complex even = 0.5 * (a + b), odd = 0.5 * Complex{a.imag() - b.imag(), b.real() - a.real()};
    const Complex turned = (k % 2 == 0 ? _twiddles[k / 2] : _twiddles[k / 2] * half_step) * odd;
    to[k] = even + turned;
    to[n - k] = std::conj(even - turned);
  }
  if (n % 2 == 0) to[n / 2] = std::conj(to[n / 2]);
}

namespace pulsewright {

struct PowerSpectrum::State {
  State(std::size_t count, std::size_t padded_count)
      : window(count),
        windowed(padded_count),
        bins(padded_count / 2),
        power(padded_count / 2 + 1),
        transform(padded_count / 2, false) {
    for (std::size_t i = 0; i < count; ++i) {
      const double phase = 2.0 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(count);
      window[i] = 0.5 - 0.5 * elementary::cos(phase);
    }
  }

  std::vector<double> window, windowed;
  std::vector<std::complex<double>> bins;
  std::vector<double> power;
  kissfft<double> transform;
};

PowerSpectrum::PowerSpectrum(std::size_t length, std::size_t padded) {
  if (length < 2 || padded < length || padded % 2 != 0) {
    throw Error{ErrorCode::contract,
                fmt::format("PowerSpectrum: length {}, padded to {}; the first must be at least 2, "
                            "the second even and no shorter",
                            length, padded)};
  }
  state_ = std::make_unique<State>(length, padded);
}
PowerSpectrum::~PowerSpectrum() = default;
PowerSpectrum::PowerSpectrum(PowerSpectrum&&) noexcept = default;
PowerSpectrum& PowerSpectrum::operator=(PowerSpectrum&&) noexcept = default;

template <class Number>
std::span<const double> PowerSpectrum::power_of(std::span<const Number> values) {
  State& s = *state_;
  const std::size_t n = s.window.size();
  if (values.size() != n)
    throw Error{ErrorCode::contract, fmt::format("PowerSpectrum: {} values; it was made for {}", values.size(), n)};
  double mean = 0.0;
  for (const Number v : values) mean += static_cast<double>(v);
  mean /= static_cast<double>(n);
  for (std::size_t i = 0; i < n; ++i) s.windowed[i] = (static_cast<double>(values[i]) - mean) * s.window[i];
  s.transform.transform_real(s.windowed.data(), s.bins.data());

  const std::size_t half = s.bins.size();
  for (std::size_t b = 1; b < half; ++b) s.power[b] = std::norm(s.bins[b]);
  s.power[0] = s.bins[0].real() * s.bins[0].real();  // bins[0] packs the two real ones: constant and half the rate
  s.power[half] = s.bins[0].imag() * s.bins[0].imag();
  return s.power;
}

std::span<const double> PowerSpectrum::of(std::span<const float> values) { return power_of(values); }
std::span<const double> PowerSpectrum::of(std::span<const double> values) { return power_of(values); }

Hertz PowerSpectrum::bin_width(Hertz rate) const { return rate / static_cast<double>(state_->windowed.size()); }

std::vector<std::complex<double>> fourier_transform(std::span<const double> values) {
  if (values.size() < 2 || values.size() % 2 != 0)
    throw Error{ErrorCode::contract,
                fmt::format("fourier_transform: {} values; their number must be even and at least 2", values.size())};
  const std::size_t half = values.size() / 2;
  std::vector<std::complex<double>> bins(half + 1);
  kissfft<double> transform(half, false);
  transform.transform_real(values.data(), bins.data());
  bins[half] = bins[0].imag();  // bin 0 packs the two real ones: constant and half the rate
  bins[0] = bins[0].real();
  return bins;
}

}  // namespace pulsewright
