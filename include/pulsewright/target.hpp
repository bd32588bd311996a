/// A band of heart rates to aim for.
#pragma once

#include <optional>

#include "pulsewright/maximum.hpp"
#include "pulsewright/resting.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright {

struct TargetZone {
  BeatsPerMinute low;
  BeatsPerMinute high;
  double low_fraction = 0.60;
  double high_fraction = 0.85;
  bool from_reserve = true;  ///< false: fractions of the maximum, because the resting rate is unknown
  MaximumRate maximum;
  std::optional<RestingRate> resting;
  std::optional<BeatsPerMinute> own_ceiling;  ///< the professional's limit, when it lowered `high`
};

/// Target by the reserve method (Karvonen et al. 1957): rest + f (max - rest); without a resting rate, f x max.
/// Throws Error{usage} when fractions are not 0 <= low < high <= 1, or the resting rate is not below the maximum.
[[nodiscard]] TargetZone target_zone(const MaximumRate& maximum, const std::optional<RestingRate>& resting,
                                     double low_fraction = 0.60, double high_fraction = 0.85);

/// The target with its upper end lowered to a limit set by a professional. Nothing when the limit lies below the lower end: then no
/// target by formula applies.
[[nodiscard]] std::optional<TargetZone> with_ceiling(TargetZone target, BeatsPerMinute ceiling);

/// How far each end of a target moves when the person's own maximum lies one SD off the equation, beats/min: fraction x SD. An end that an own ceiling
/// has set does not move up.
struct TargetShift {
  double low_bpm = 0;
  double high_bpm = 0;
};

/// Nothing when the maximum was measured.
[[nodiscard]] std::optional<TargetShift> target_shift(const TargetZone& target);

}  // namespace pulsewright
