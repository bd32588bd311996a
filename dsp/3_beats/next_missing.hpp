/// Where the next missing sample is.
#pragma once

#include <cmath>
#include <cstddef>
#include <span>

namespace pulsewright::beats_stage {

/// Position of the first NaN at or after `from`; the size when there is none. Whole blocks without one are passed at once.
[[nodiscard]] inline std::size_t next_missing(std::span<const float> values, std::size_t from) {
  constexpr std::size_t block = 64;
  for (; from + block <= values.size(); from += block) {
    int missing = 0;
    for (const float v : values.subspan(from, block)) missing |= static_cast<int>(std::isnan(v));
    if (missing != 0) break;
  }
  while (from < values.size() && !std::isnan(values[from])) ++from;
  return from;
}

}  // namespace pulsewright::beats_stage
