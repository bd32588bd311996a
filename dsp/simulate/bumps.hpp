/// A wave made of Gaussian bumps in time: the common form of the simulated ECG and pulse.
#pragma once

#include <vector>

#include "sample_times.hpp"

namespace pulsewright::simulation {

struct Bump {
  double centre = 0;  ///< true time, s
  double sd = 0;      ///< s, positive
  double height = 0;  ///< at the centre, in the channel's unit
};

class BumpWave {
 public:
  void add(const Bump& bump) { bumps_.push_back(bump); }
  /// Puts the bumps in order; call once after the last `add`.
  void finish();

  /// Value at any time.
  [[nodiscard]] double at(double t) const;
  /// Values at the sample times.
  [[nodiscard]] std::vector<double> sampled(const SampleTimes& times) const;

  /// A local extremum.
  struct Peak {
    double time = 0;
    bool found = false;
  };
  /// The local maximum (of `sign` times the wave) nearest to `t` within `reach`, to a microsecond. Not found: `time` is `t`.
  [[nodiscard]] Peak peak_near(double t, double reach, double sign = 1.0) const;

 private:
  std::vector<Bump> bumps_;
  double widest_ = 0;
};

}  // namespace pulsewright::simulation
