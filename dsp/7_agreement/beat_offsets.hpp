/// Offsets of two clocks from beats that are known to belong together.
#pragma once

#include <vector>

#include "offset_line.hpp"
#include "pulsewright/beats.hpp"

namespace pulsewright {

/// Matches each reference beat with the test beat nearest to where `line` expects it, at most 0.3 s or 0.4 of the interval away, and gives the median
/// difference of every minute with at least ten matches.
[[nodiscard]] std::vector<StretchOffset> offsets_of_beats(const BeatTrain& reference, const BeatTrain& test,
                                                          const OffsetLine& line);

}  // namespace pulsewright
