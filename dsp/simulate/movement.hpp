/// The person's movement: acceleration of the limb, and what of it reaches the sensors.
#pragma once

#include <array>
#include <vector>

#include "pulsewright/simulate.hpp"
#include "timeline.hpp"

namespace pulsewright::simulation {

/// Movement is a sum of harmonics of the cadence, whose rate wanders by some per cent; its size swells in and out within a second where a
/// phase begins and ends. Times are true times.
class Movement {
 public:
  Movement(const Scenario& scenario, const Timeline& timeline, double duration);

  /// Acceleration along x, y, z in g, gravity included.
  [[nodiscard]] std::array<double, 3> acceleration(double t) const;
  /// What reaches a loose sensor, in g: the acceleration without gravity, weighted over the axes, late by the lag, 0 while tight.
  [[nodiscard]] double artefact(double t) const;

  [[nodiscard]] const std::vector<Span>& moving() const { return moving_; }
  [[nodiscard]] const std::vector<Span>& loose() const { return loose_; }

 private:
  [[nodiscard]] std::array<double, 3> swing(double t) const;
  [[nodiscard]] double grid(const std::vector<double>& values, double t) const;

  double lag_ = 0;
  std::vector<double> steps_;     ///< number of steps since the start, with fractions
  std::vector<double> strength_;  ///< 0 when still
  std::vector<Span> moving_, loose_;
};

}  // namespace pulsewright::simulation
