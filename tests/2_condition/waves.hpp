/// Small made-up waves with a known shape: enough of a heart to judge a filter by, not a model of one.
#pragma once

#include <cmath>
#include <cstddef>
#include <random>
#include <vector>

#include "pulsewright/recording.hpp"

namespace pulsewright::test {

inline double bell(double t, double centre, double width) {
  const double u = (t - centre) / width;
  return std::exp(-0.5 * u * u);
}

/// ECG of 1 mV with a beat every 0.8 s: R of 12 ms, T of 50 ms standard width, 5 uV of noise.
inline std::vector<float> ecg(double rate, double seconds) {
  std::mt19937 engine{11};
  std::vector<float> x(static_cast<std::size_t>(rate * seconds));
  for (std::size_t i = 0; i < x.size(); ++i) {
    const double t = std::fmod(static_cast<double>(i) / rate, 0.8);
    const double noise = 0.005 * (2.0 * static_cast<double>(engine()) / static_cast<double>(std::mt19937::max()) - 1.0);
    x[i] = static_cast<float>(bell(t, 0.3, 0.012) - 0.15 * bell(t, 0.33, 0.012) + 0.25 * bell(t, 0.55, 0.05) + noise);
  }
  return x;
}

/// Pulse of 1 with a beat every 0.8 s: a systolic and a smaller reflected wave.
inline std::vector<float> pulse(double rate, double seconds) {
  std::vector<float> x(static_cast<std::size_t>(rate * seconds));
  for (std::size_t i = 0; i < x.size(); ++i) {
    const double t = std::fmod(static_cast<double>(i) / rate, 0.8);
    x[i] = static_cast<float>(bell(t, 0.25, 0.08) + 0.4 * bell(t, 0.5, 0.1));
  }
  return x;
}

/// White noise between -size and size.
inline std::vector<float> noise(std::size_t n, double size, unsigned seed) {
  std::mt19937 engine{seed};
  std::vector<float> x(n);
  for (float& v : x)
    v = static_cast<float>(size *
                           (2.0 * static_cast<double>(engine()) / static_cast<double>(std::mt19937::max()) - 1.0));
  return x;
}

inline Channel channel_of(std::vector<float> samples, double rate, ChannelKind kind = ChannelKind::ecg) {
  Channel c;
  c.name = "Wren";
  c.kind = kind;
  c.rate = Hertz{rate};
  c.samples = std::move(samples);
  return c;
}

}  // namespace pulsewright::test
