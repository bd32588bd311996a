/// Series of intervals that tests make up, each from a seed.
#pragma once

#include <cmath>
#include <cstdint>
#include <numbers>
#include <random>
#include <vector>

#include "pulsewright/clean.hpp"
#include "pulsewright/interval_spectrum.hpp"

namespace pulsewright {

/// Intervals in ms that touch, all normal.
inline Intervals normal_intervals(const std::vector<double>& values) {
  Intervals result;
  double t = 0.0;
  for (const double ms : values) {
    result.intervals.push_back({Seconds{t}, Seconds{t + ms / 1000.0}, ms, IntervalVerdict::normal, ms, 0, 1});
    t += ms / 1000.0;
  }
  result.duration = Seconds{t};
  return result;
}

/// The times of the beats that end them.
inline TimedIntervals timed(const std::vector<double>& values) {
  TimedIntervals result;
  double t = 0.0;
  for (const double ms : values) {
    t += ms / 1000.0;
    result.time_s.push_back(t);
    result.ms.push_back(ms);
  }
  return result;
}

/// Independent normal values of spread 1, by Box and Muller, so that every machine draws the same.
inline std::vector<double> white_noise(std::size_t n, std::uint32_t seed) {
  std::mt19937 random(seed);
  const auto uniform = [&] { return (static_cast<double>(random()) + 0.5) / 4294967296.0; };
  std::vector<double> values;
  while (values.size() < n) {
    const double radius = std::sqrt(-2.0 * std::log(uniform()));
    const double angle = 2.0 * std::numbers::pi * uniform();
    values.push_back(radius * std::cos(angle));
    values.push_back(radius * std::sin(angle));
  }
  values.resize(n);
  return values;
}

/// Intervals of a heart whose interval swings about `mean` ms by `amplitude` ms at `hz`: each is the value at the beat that ends it.
inline std::vector<double> swinging(double mean, double amplitude, double hz, std::size_t n) {
  std::vector<double> values;
  double t = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    double ms = mean;
    for (int k = 0; k < 60; ++k)  // the interval decides when it ends, and that decides the interval
      ms = mean + amplitude * std::sin(2.0 * std::numbers::pi * hz * (t + ms / 1000.0));
    values.push_back(ms);
    t += ms / 1000.0;
  }
  return values;
}

}  // namespace pulsewright
