/// Small scenarios that several tests start from.
#pragma once

#include "pulsewright/simulate.hpp"

namespace pulsewright::test {

/// A resting heart seen by noiseless sensors without converters.
inline Scenario quiet(double seconds = 60, double rate_hz = 250) {
  Scenario s;
  s.phases = {{.name = "sitting", .duration = Seconds{seconds}}};
  s.rate = Hertz{rate_hz};
  s.ecg = EcgSensor{.disturbance = {}, .converter = std::nullopt};
  s.pulse = PulseSensor{.disturbance = {}, .converter = std::nullopt};
  return s;
}

/// Intervals between the R peaks inside the recording, in s, and the time at which each ends.
struct TrueIntervals {
  std::vector<double> end_s;
  std::vector<double> length_s;
};

inline TrueIntervals intervals_of(const Truth& truth) {
  TrueIntervals intervals;
  for (std::size_t i = 1; i < truth.beats.size(); ++i) {
    intervals.end_s.push_back(truth.beats[i].time.value());
    intervals.length_s.push_back((truth.beats[i].time - truth.beats[i - 1].time).value());
  }
  return intervals;
}

inline double mean(const std::vector<double>& values) {
  double sum = 0;
  for (const double v : values) sum += v;
  return sum / static_cast<double>(values.size());
}

inline double variance(const std::vector<double>& values) {
  const double middle = mean(values);
  double sum = 0;
  for (const double v : values) sum += (v - middle) * (v - middle);
  return sum / static_cast<double>(values.size());
}

}  // namespace pulsewright::test
