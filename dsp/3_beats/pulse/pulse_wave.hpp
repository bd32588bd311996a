/// The pulse signals of one stretch as one upright wave.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "pulsewright/units.hpp"

namespace pulsewright::beats_stage {

/// Which way blood volume points in each pulse signal: a pulse rises faster than it falls. Follows a change only when it is clear, once it has seen some seconds.
class PulsePolarity {
 public:
  /// From values whose filter left the shape of the wave alone.
  void learn(std::span<const float> values, Hertz rate);
  [[nodiscard]] bool upright() const { return upright_; }

 private:
  bool upright_ = true;
  bool known_ = false;
};

/// Signals turned upright, scaled to their own size over the surroundings of some seconds, and averaged, each weighted by how regular it looks.
/// NaN counts as zero. Signals of equal length, at least one; `polarities` has one entry a signal.
[[nodiscard]] std::vector<float> upright_wave(std::span<const std::span<const float>> signals, Hertz rate,
                                              std::span<const PulsePolarity> polarities);

}  // namespace pulsewright::beats_stage
