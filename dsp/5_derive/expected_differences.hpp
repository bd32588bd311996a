/// What the differences beside replaced intervals are to be expected to add to sums over all differences.
#pragma once

#include <cstddef>

#include "variability_parts.hpp"

namespace pulsewright {

struct ExpectedDifferences {
  std::size_t count = 0;
  double sum = 0;      ///< ms
  double squares = 0;  ///< ms2
};

/// Differences into, inside and out of runs of up to eight replaced intervals that touch measured ones on both sides. To leave them out leaves RMSSD to
/// chance: 5 % of missed beats take 15 % of the differences along. Their expected squares are those of a Gaussian series with the autocovariance that the measured
/// differences of the record have, given the two differences before and after the run, that all in the run add up to the step from its
/// neighbour before to the one after, and, where the replacements fill the time between the beats (missed and misplaced beats, not early ones, which may
/// set the rhythm back), that the intervals add up to that time, unless that would be a surprise of more than four SD. With fewer than twenty measured differences there are none.
[[nodiscard]] ExpectedDifferences expected_differences(const NormalSeries& series);

}  // namespace pulsewright
