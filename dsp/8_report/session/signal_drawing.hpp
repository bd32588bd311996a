/// A few seconds of a signal as a line.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "8_report/figure/plot.hpp"

namespace pulsewright {

/// The samples of a signal in a stretch of time, and the time of the first.
struct SignalExcerpt {
  std::span<const float> values;
  Seconds start;
  Hertz rate{1.0};
};

[[nodiscard]] SignalExcerpt excerpt_of(const Signal& signal, Span stretch);

/// The range of what was recorded, widened to whole steps; 0 to 1 when nothing was.
[[nodiscard]] AxisRange range_of(std::span<const float> values, int most_steps);

/// Columns of a line over a few seconds.
inline constexpr std::size_t excerpt_columns = 480;

/// Draws the samples as a line that breaks where samples are missing. More than twice `columns` samples are drawn by the extremes of each column, in their
/// order.
void draw_signal(Plot& plot, const SignalExcerpt& excerpt, const char* style, std::size_t columns = excerpt_columns);

}  // namespace pulsewright
