/// How high and how wide the QRS complexes are: pulses too small or too narrow are no complexes.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "pulsewright/beats.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright::beats_stage {

struct ComplexSize {
  float height = 0;    ///< from peak to peak, in the signal's unit
  Seconds half_width;  ///< how long the main deflection is over half its height
};

/// Of the complex whose peak is at `position`, in samples of `values`.
[[nodiscard]] ComplexSize complex_size(std::span<const float> values, double position, Hertz rate);

/// Millivolts per unit of a signal; nothing when the unit is not one of voltage.
[[nodiscard]] std::optional<float> millivolts_per(const std::string& unit);

/// The verdict of accepted beats becomes `unreadable` where the complexes around, half of them at least, are too low or too narrow for a heart's. `sizes` belong to
/// the candidates, heights in mV, infinite where the unit is not known.
void reject_no_complexes(std::vector<Beat>& candidates, const std::vector<ComplexSize>& sizes);

}  // namespace pulsewright::beats_stage
