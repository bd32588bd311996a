/// Workload -> heart-rate course: first-order kinetics, quicker up than down, and a slow drift.
#pragma once

#include <vector>

#include "pulsewright/simulate.hpp"

namespace pulsewright::simulation {

/// Steps through a session in time order.
class RateCourse {
 public:
  /// Starts settled in the first phase, without drift.
  RateCourse(const Heart& heart, const WorkPhase& first);

  /// The rate at present, beats/min, at most the maximum.
  [[nodiscard]] double rate() const;
  /// Lets `dt` seconds go by in `phase`. Exact for constant demand: the steps' size does not matter.
  void advance(const WorkPhase& phase, double dt);

 private:
  Heart heart_;
  double fast_ = 0;
  double drift_ = 0;
};

/// Rate at which the heart settles in a phase, beats/min.
[[nodiscard]] double settled_rate(const Heart& heart, const WorkPhase& phase);
/// The phase's demand as a fraction of reserve.
[[nodiscard]] double demand(const Heart& heart, const WorkPhase& phase);

}  // namespace pulsewright::simulation
