#include "pulsewright/load.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "effort_account.hpp"
#include "elementary/elementary.hpp"

namespace pulsewright {

namespace {

constexpr double us_per_minute = 60e6;
/// Tenths of the maximum from 50 % up weigh 1 to 5 (Edwards 1993).
constexpr double first_weighted_fraction = 0.5;
constexpr double tenth = 0.1;
constexpr int most_weight = 5;

int weight_of(BeatsPerMinute rate, BeatsPerMinute maximum) {
  int weight = 0;
  for (int k = 0; k < most_weight; ++k)
    if (rate.value() + bound_rounding_bpm >= (first_weighted_fraction + tenth * k) * maximum.value()) ++weight;
  return weight;
}

}  // namespace

double impulse_load(double minutes, double reserve_fraction, const ImpulseCoefficients& coefficients) {
  const double r = std::max(0.0, reserve_fraction);
  return minutes * r * coefficients.factor * elementary::exp(coefficients.exponent * r);
}

Load load_over(std::span<const EffortCell> cells, BeatsPerMinute maximum, std::optional<BeatsPerMinute> resting) {
  const BeatsPerMinute base = resting.value_or(BeatsPerMinute{0.0});
  if (!(maximum > base))
    throw Error{ErrorCode::contract,
                fmt::format("load_over: maximum {} beats/min; it must be above the resting rate {}", maximum.value(),
                            base.value())};
  Load load;
  double men = 0, women = 0, minutes = 0, weighted_fraction = 0;
  for (const EffortCell& cell : cells) {
    if (!cell.rate) continue;
    const double length = static_cast<double>(cell.length_us) / us_per_minute;
    load.weighted_minutes += length * weight_of(*cell.rate, maximum);
    const double fraction = (*cell.rate - base) / (maximum - base);
    men += impulse_load(length, fraction, men_impulse);
    women += impulse_load(length, fraction, women_impulse);
    minutes += length;
    weighted_fraction += length * fraction;
  }
  if (!resting) return load;
  load.impulse_men = men;
  load.impulse_women = women;
  const double mean = minutes > 0 ? weighted_fraction / minutes : 0.0;
  load.mean_impulse_men = impulse_load(minutes, mean, men_impulse);
  load.mean_impulse_women = impulse_load(minutes, mean, women_impulse);
  return load;
}

}  // namespace pulsewright
