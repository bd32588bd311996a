#include "trace_rows.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace pulsewright::live_stage {
namespace {

/// Columns for each second: a beat at 200 beats/min still has three.
constexpr double columns_per_second = 10.0;

struct Range {
  float low = std::numeric_limits<float>::infinity(), high = -std::numeric_limits<float>::infinity();
  [[nodiscard]] bool any() const { return low <= high; }
  void take(float value) {
    low = std::min(low, value);
    high = std::max(high, value);
  }
};

}  // namespace

std::vector<std::string> trace_rows(const LiveGlance& glance, std::size_t columns, std::size_t rows) {
  std::vector<std::string> drawn(rows + 1, std::string(columns, ' '));
  if (columns == 0 || rows == 0 || glance.trace.empty()) return drawn;
  // The right edge moves from column to column, so that the wave scrolls and does not flicker.
  const double last_column = std::floor(glance.seen.value() * columns_per_second);
  const auto column_of = [&](Seconds time) {
    return static_cast<double>(columns) - 1.0 - (last_column - std::floor(time.value() * columns_per_second));
  };
  std::vector<Range> ranges(columns);
  Range all;
  for (std::size_t i = 0; i < glance.trace.size(); ++i) {
    const float value = glance.trace[i];
    const Seconds time =
        glance.seen - static_cast<double>(glance.trace.size() - i) * period(glance.rate) + 0.5 * period(glance.rate);
    const double column = column_of(time);
    if (!std::isfinite(value) || column < 0 || column >= static_cast<double>(columns)) continue;
    ranges[static_cast<std::size_t>(column)].take(value);
    all.take(value);
  }
  const auto row_of = [&](float value) {
    if (!(all.high > all.low)) return rows / 2;
    const double share = static_cast<double>(all.high - value) / static_cast<double>(all.high - all.low);
    return std::min(rows - 1, static_cast<std::size_t>(share * static_cast<double>(rows)));
  };
  for (std::size_t c = 0; c < columns; ++c) {
    if (!ranges[c].any()) continue;
    // Joined with the column before, so that a steep rise has no holes.
    Range joined = ranges[c];
    if (c > 0 && ranges[c - 1].any()) {
      joined.low = std::min(joined.low, ranges[c - 1].high);
      joined.high = std::max(joined.high, ranges[c - 1].low);
    }
    const std::size_t top = row_of(joined.high), bottom = row_of(joined.low);
    for (std::size_t r = top; r <= bottom; ++r) drawn[r][c] = top == bottom ? '-' : '|';
  }
  const auto mark = [&](const std::vector<Seconds>& beats, char sign) {
    for (const Seconds beat : beats) {
      const double column = column_of(beat);
      if (column >= 0 && column < static_cast<double>(columns)) drawn[rows][static_cast<std::size_t>(column)] = sign;
    }
  };
  mark(glance.beats, '^');
  return drawn;
}

}  // namespace pulsewright::live_stage
