/// The moment of a beat to a fraction of a sample: the peak of the R wave, on whichever side it points.
#pragma once

#include <cstdint>
#include <optional>
#include <span>

#include "pulsewright/units.hpp"

namespace pulsewright::beats_stage {

/// Position of the extreme of a short stretch, in samples from its start: a parabola is laid through the samples within `half_width` of the
/// largest (`upward`) or smallest one. NaN samples are passed over; nothing when all are NaN.
[[nodiscard]] std::optional<double> extreme_position(std::span<const float> values, bool upward,
                                                     std::size_t half_width);

/// Which way the main deflection of the complexes points. Follows a change only when it is clear, so that the fiducial point does not hop
/// between two waves of nearly the same height.
class Polarity {
 public:
  /// Learns from the complexes centred on `centres` (samples of `values`).
  void learn(std::span<const float> values, std::span<const std::int64_t> centres, Hertz rate);
  [[nodiscard]] bool upward() const { return upward_; }

 private:
  bool upward_ = true;
  bool known_ = false;
};

/// The R peak near `centre`, in samples of `values`; `centre` itself when nothing can be measured there.
[[nodiscard]] double r_peak_near(std::span<const float> values, double centre, bool upward, Hertz rate);

}  // namespace pulsewright::beats_stage
