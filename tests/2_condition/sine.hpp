/// Sines and what a filter makes of them.
#pragma once

#include <cmath>
#include <cstddef>
#include <numbers>
#include <span>
#include <vector>

namespace pulsewright::test {

inline std::vector<float> sine(double hz, double rate, std::size_t n, double amplitude = 1.0, double offset = 0.0) {
  std::vector<float> x(n);
  for (std::size_t i = 0; i < n; ++i) {
    x[i] =
        static_cast<float>(offset + amplitude * std::sin(2.0 * std::numbers::pi * hz * static_cast<double>(i) / rate));
  }
  return x;
}

/// Amplitude of the sine of frequency `hz` in `x`, by least squares over its whole length; whole periods expected.
inline double amplitude(std::span<const float> x, double hz, double rate) {
  double s = 0.0, c = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    const double phase = 2.0 * std::numbers::pi * hz * static_cast<double>(i) / rate;
    s += static_cast<double>(x[i]) * std::sin(phase);
    c += static_cast<double>(x[i]) * std::cos(phase);
  }
  return 2.0 * std::hypot(s, c) / static_cast<double>(x.size());
}

}  // namespace pulsewright::test
