/// Two series of rates -> pairs over the same stretches of time.
#pragma once

#include <vector>

#include "pulsewright/rate_study.hpp"

namespace pulsewright {

struct PairedWindows {
  std::vector<PairedValue> pairs;
  WindowCounts counts;
  Seconds common;        ///< time that both series cover
  bool overlap = false;  ///< neighbouring windows share time
};

/// Pairs as `compare_record` describes them, the test's times taken to the reference's clock by `alignment`.
[[nodiscard]] PairedWindows pair_windows(const RateSeries& reference, const RateSeries& test,
                                         const Alignment& alignment);

}  // namespace pulsewright
