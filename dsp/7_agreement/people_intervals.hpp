/// Intervals that hold for people who are not alike, from the populations that their values allow.
#pragma once

#include <span>

#include "population_draws.hpp"

namespace pulsewright {

/// As `repeated_limits` of pairs alone, from `draw_populations` of their differences.
[[nodiscard]] std::optional<RepeatedLimits> repeated_limits(std::span<const PairedValue> pairs,
                                                            std::span<const Population> differences);

/// Gives the correlations and errors that follow from variances the interval over people: intraclass
/// correlations, Lin's concordance and the root mean square error. `means` are the populations of the
/// pairs' means, as many as of `differences`, and drawn independently of them.
void put_people_intervals(PairedAgreement& agreement, std::span<const Population> differences,
                          std::span<const Population> means);

}  // namespace pulsewright
