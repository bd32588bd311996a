/// The slow courses behind a session on one grid: workload -> rate course -> breathing and modulation -> instantaneous rate and its integral.
#pragma once

#include <vector>

#include "pulsewright/simulate.hpp"

namespace pulsewright::simulation {

/// Courses every `step` seconds, from `start` (before 0, so that waves reach in) to after the end of the recording. Times are true times.
class Timeline {
 public:
  static constexpr double step = 0.04;  ///< 33 points for the fastest breath of 0.75 Hz
  static constexpr double margin = 4.0;

  /// Heart and phases must have been checked. `duration` is that of the recording in true time.
  Timeline(const Scenario& scenario, double duration);

  [[nodiscard]] double start() const { return -margin; }
  [[nodiscard]] double end() const { return end_; }
  /// Rate course in beats/min, without modulation.
  [[nodiscard]] double rate(double t) const { return at(rate_, t); }
  /// Fraction of reserve used, 0 to 1.
  [[nodiscard]] double reserve(double t) const { return at(reserve_, t); }
  /// Breathing wave of unit variance, positive in inspiration.
  [[nodiscard]] double breath(double t) const { return at(breath_, t); }
  /// Breathing rate in Hz.
  [[nodiscard]] double breaths_hz(double t) const;
  /// Number of beats the sinus node has made since `start`, with fractions: the integral of the modulated rate.
  [[nodiscard]] double beats_until(double t) const { return at(beats_, t); }
  /// When that number is reached; the end when it is not.
  [[nodiscard]] double when(double beats) const;
  /// Workload asked for, and cadence: those of the phase at `t`; the first and last phases go on outside the recording.
  [[nodiscard]] const WorkPhase& phase(double t) const;

 private:
  [[nodiscard]] double at(const std::vector<double>& values, double t) const;

  std::vector<WorkPhase> phases_;
  std::vector<double> phase_ends_;
  double end_ = 0;
  double resting_breaths_ = 0;
  double breaths_range_ = 0;
  std::vector<double> rate_, reserve_, breath_, beats_;
};

}  // namespace pulsewright::simulation
