/// Records of a study put together: all of them, or those that share a fact.
#pragma once

#include <vector>

#include "pulsewright/rate_study.hpp"

namespace pulsewright {

void add_counts(WindowCounts& sum, const WindowCounts& counts);

/// The pairs of all records, `before` or `pairs`.
[[nodiscard]] std::vector<PairedValue> pooled(const std::vector<const ComparedRecord*>& records,
                                              std::vector<PairedValue> ComparedRecord::*pairs);

/// One breakdown for each column of facts, in the order of `Breakdown::by`.
[[nodiscard]] std::vector<Breakdown> breakdowns_of(const std::vector<ComparedRecord>& records,
                                                   const PairedOptions& options);

}  // namespace pulsewright
