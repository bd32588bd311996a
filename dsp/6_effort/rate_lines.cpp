#include "rate_lines.hpp"

#include <algorithm>
#include <cmath>

namespace pulsewright {

namespace {

/// When the line passes from one side of the bound to the other; its end when it stays before it, its start when it begins beyond it.
std::int64_t crossing_us(const RateLine& line, BeatsPerMinute bound) {
  const bool falls = line.to < line.from;
  const auto beyond = [&](BeatsPerMinute rate) { return falls ? rate < bound : bound <= rate; };
  if (beyond(line.from)) return line.start_us;
  if (!beyond(line.to)) return line.end_us;
  const double share = (bound - line.from) / (line.to - line.from);
  return line.start_us + std::llround(share * static_cast<double>(line.end_us - line.start_us));
}

}  // namespace

std::vector<RateLine> rate_lines(std::span<const EffortCell> cells) {
  std::vector<RateLine> lines;
  lines.reserve(2 * cells.size());
  for (const EffortCell& cell : cells) {
    if (!cell.rate) continue;
    const std::int64_t middle = cell.start_us + cell.length_us / 2;
    lines.push_back({cell.start_us, middle, cell.rate_at_start.value_or(*cell.rate), *cell.rate});
    lines.push_back({middle, cell.start_us + cell.length_us, *cell.rate, cell.rate_at_end.value_or(*cell.rate)});
  }
  return lines;
}

RateStretch stretch_between(const RateLine& line, BeatsPerMinute low, BeatsPerMinute high) {
  const std::int64_t at_low = crossing_us(line, low), at_high = crossing_us(line, high);
  return line.to < line.from ? RateStretch{at_high, at_low} : RateStretch{at_low, at_high};
}

std::int64_t time_between(std::span<const RateLine> lines, BeatsPerMinute low, BeatsPerMinute high) {
  std::int64_t time = 0;
  for (const RateLine& line : lines) time += stretch_between(line, low, high).length_us();
  return time;
}

}  // namespace pulsewright
