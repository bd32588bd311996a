/// A narrow-band random wave of unit variance whose spectrum is a Gaussian about a centre that may move.
#pragma once

#include <vector>

#include "random.hpp"

namespace pulsewright::simulation {

/// Sum of sinusoids with random phases, after the RR process of McSharry et al. 2003 (which fixes amplitudes by the spectrum and draws phases).
/// Their offsets from the centre lie between -3 and 3 SD, one drawn at random in each of equal cells, so that the wave does not repeat.
class NarrowBand {
 public:
  /// `sd` in Hz.
  NarrowBand(double sd, Random random);

  /// The wave at time `t` when the centre has made `turns` turns until then.
  [[nodiscard]] double at(double t, double turns) const;

 private:
  struct Line {
    double offset_hz;
    double phase_turns;
    double amplitude;
  };
  std::vector<Line> lines_;
};

}  // namespace pulsewright::simulation
