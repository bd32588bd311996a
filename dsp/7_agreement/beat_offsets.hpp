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

/// Whether intervals of the test fit those of the reference nearly as well when they are taken one beat earlier or
/// later than `line` says: a heart that beats evenly does not tell which of its beats is which, and a delay may be off
/// by a whole interval. (The squares of the differences are smaller by less than three of their standard errors.) False
/// where fewer than 20 pairs of intervals can be compared.
[[nodiscard]] bool ambiguous_by_a_beat(const BeatTrain& reference, const BeatTrain& test, const OffsetLine& line);

}  // namespace pulsewright
