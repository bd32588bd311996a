#include <fmt/format.h>

#include "pulsewright/target.hpp"

namespace pulsewright {

TargetZone target_zone(const MaximumRate& maximum, const std::optional<RestingRate>& resting, double low_fraction,
                       double high_fraction) {
  if (!(0.0 <= low_fraction && low_fraction < high_fraction && high_fraction <= 1.0))
    throw Error{ErrorCode::usage,
                fmt::format("target from {:g} to {:g} of the {}; fractions must be 0 <= low < high <= 1", low_fraction,
                            high_fraction, resting ? "reserve" : "maximum")};
  if (!(maximum.rate.value() > 0.0))
    throw Error{ErrorCode::usage, fmt::format("maximum rate {:g} beats/min; it must be above 0", maximum.rate.value())};
  if (resting && !(resting->rate.value() > 0.0 && resting->rate < maximum.rate))
    throw Error{ErrorCode::usage,
                fmt::format("resting rate {:g} beats/min, maximum {:g} beats/min ({}); the resting rate must "
                            "be above 0 and below the maximum",
                            resting->rate.value(), maximum.rate.value(), describe(maximum.source))};
  TargetZone target;
  target.low_fraction = low_fraction;
  target.high_fraction = high_fraction;
  target.from_reserve = resting.has_value();
  target.maximum = maximum;
  target.resting = resting;
  const BeatsPerMinute base = resting ? resting->rate : BeatsPerMinute{0.0};
  target.low = base + low_fraction * (maximum.rate - base);
  target.high = base + high_fraction * (maximum.rate - base);
  return target;
}

std::optional<TargetZone> with_ceiling(TargetZone target, BeatsPerMinute ceiling) {
  if (ceiling < target.low) return std::nullopt;
  if (ceiling < target.high) {
    target.high = ceiling;
    target.own_ceiling = ceiling;
  }
  return target;
}

std::optional<TargetShift> target_shift(const TargetZone& target) {
  if (!target.maximum.sd_bpm) return std::nullopt;
  return TargetShift{target.low_fraction * *target.maximum.sd_bpm,
                     target.own_ceiling ? 0.0 : target.high_fraction * *target.maximum.sd_bpm};
}

}  // namespace pulsewright
