/// The rate of effort cells as straight lines, so that time on either side of a bound is cut where the rate crosses it.
#pragma once

#include <algorithm>
#include <cstdint>
#include <limits>
#include <span>
#include <vector>

#include "pulsewright/effort.hpp"

namespace pulsewright {

/// Half a cell: the rate runs straight from one end to the other.
struct RateLine {
  std::int64_t start_us = 0, end_us = 0;
  BeatsPerMinute from, to;
};

/// Microseconds from the start of the recording; empty when `end_us` is not after `start_us`.
struct RateStretch {
  std::int64_t start_us = 0, end_us = 0;

  [[nodiscard]] std::int64_t length_us() const { return std::max<std::int64_t>(0, end_us - start_us); }
};

inline constexpr BeatsPerMinute no_lower_bound{-std::numeric_limits<double>::infinity()};
inline constexpr BeatsPerMinute no_upper_bound{std::numeric_limits<double>::infinity()};

/// Two lines a measured cell, in order; they share out its time exactly.
[[nodiscard]] std::vector<RateLine> rate_lines(std::span<const EffortCell> cells);

/// Where the line lies at or above `low` and below `high`. Bands that share a bound share out the line's time exactly.
[[nodiscard]] RateStretch stretch_between(const RateLine& line, BeatsPerMinute low, BeatsPerMinute high);

/// The time of all lines at or above `low` and below `high`.
[[nodiscard]] std::int64_t time_between(std::span<const RateLine> lines, BeatsPerMinute low, BeatsPerMinute high);

}  // namespace pulsewright
