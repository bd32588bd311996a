/// Populations that the values of several unequal people may come from.
#pragma once

#include <cmath>
#include <functional>
#include <span>
#include <vector>

#include "pulsewright/paired_agreement.hpp"

namespace pulsewright {

/// A population as the values allow it.
struct Population {
  double mean = 0;
  double between_variance = 0;  ///< of people's own means
  double within_variance = 0;   ///< around them, its mean over people

  [[nodiscard]] double variance() const { return between_variance + within_variance; }
  [[nodiscard]] double sd() const { return std::sqrt(variance()); }
};

/// Evenly spread over what is likely, given the values of each person in the order in which they were
/// taken: people's means are normal, people's SDs log-normal (`PeopleSpreads`), and neighbouring values
/// dependent (`WindowDependence`). The points of Halton 1960 (Numer Math 2:84) in four dimensions stand
/// in for chance, so that the same values give the same draws. Empty for fewer than `fewest_people`.
/// Values that do not vary at all give the one population that they show.
[[nodiscard]] std::vector<Population> draw_populations(std::span<const std::vector<double>> people);

/// 95 % interval of what `measure` makes of each population. `value` is always inside; no ends without draws.
[[nodiscard]] Estimate over_populations(double value, std::span<const Population> draws,
                                        const std::function<double(const Population&)>& measure);

/// The same for values that were drawn otherwise. `values` may not be empty.
[[nodiscard]] Estimate middle_95(double value, std::vector<double> values);

}  // namespace pulsewright
