/// Training load: heart rate and time in one number.
#pragma once

#include <optional>
#include <span>

#include "pulsewright/effort.hpp"

namespace pulsewright {

/// Coefficients of the impulse form: minutes x r x factor x e^(exponent r), r the fraction of reserve (Banister; Morton et al. 1990, J Appl
/// Physiol 69:1171).
struct ImpulseCoefficients {
  double factor;
  double exponent;
};
inline constexpr ImpulseCoefficients men_impulse{0.64, 1.92};
inline constexpr ImpulseCoefficients women_impulse{0.86, 1.67};

/// The impulse load of a constant rate. A fraction below 0 gives none.
[[nodiscard]] double impulse_load(double minutes, double reserve_fraction, const ImpulseCoefficients& coefficients);

/// Load over the measured time of some cells; what was not measured adds nothing, so that with gaps it is a lower bound.
struct Load {
  // Each impulse is integrated over cells; nothing without a resting rate.
  std::optional<double> impulse_men, impulse_women;
  // The same from the mean fraction of reserve over the measured time. It comes out lower than the integral when the rate varied.
  std::optional<double> mean_impulse_men, mean_impulse_women;
  /// Minutes in each tenth of the maximum from 50 % up, weighted 1 to 5 (Edwards 1993); what lies above the maximum counts 5.
  double weighted_minutes = 0;
};

/// Additive: of cells cut into parts, the integrals are the sums over the parts. Throws Error{contract} when the maximum is not above the resting rate and 0.
[[nodiscard]] Load load_over(std::span<const EffortCell> cells, BeatsPerMinute maximum,
                             std::optional<BeatsPerMinute> resting);

}  // namespace pulsewright
