/// A few seconds of a signal as a line.
#pragma once

#include <span>
#include <vector>

#include "plot.hpp"

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

/// Draws the samples as a line that breaks where samples are missing. Many samples are drawn by the extremes of each column, in their order.
void draw_signal(Plot& plot, const SignalExcerpt& excerpt, const char* style);

}  // namespace pulsewright
