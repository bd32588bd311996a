#include "signal_drawing.hpp"

#include <algorithm>
#include <cmath>

#include "8_report/figure/envelope.hpp"

namespace pulsewright {
SignalExcerpt excerpt_of(const Signal& signal, Span stretch) {
  const auto size = static_cast<double>(signal.values.size());
  const auto sample_from = [&](Seconds time) {
    return std::clamp(std::ceil(samples_in(time - signal.start, signal.rate) - 1e-6), 0.0, size);
  };
  const double first = sample_from(stretch.start), last = std::max(first, sample_from(stretch.end));
  SignalExcerpt excerpt;
  excerpt.values =
      std::span{signal.values}.subspan(static_cast<std::size_t>(first), static_cast<std::size_t>(last - first));
  excerpt.start = signal.start + Seconds{first / signal.rate.value()};
  excerpt.rate = signal.rate;
  return excerpt;
}

AxisRange range_of(std::span<const float> values, int most_steps) {
  std::optional<AxisRange> range;
  for (const float sample : values) {
    if (std::isnan(sample)) continue;
    const double value = static_cast<double>(sample);
    if (!range) range = AxisRange{value, value};
    range->low = std::min(range->low, value);
    range->high = std::max(range->high, value);
  }
  return rounded_out(range.value_or(AxisRange{0, 1}), most_steps);
}

void draw_signal(Plot& plot, const SignalExcerpt& excerpt, const char* style, std::size_t columns) {
  std::vector<PlotPoint> line;
  const auto add = [&](std::size_t sample, float value) {
    line.push_back(
        {excerpt.start.value() + static_cast<double>(sample) / excerpt.rate.value(), static_cast<double>(value)});
  };
  const bool every_sample = excerpt.values.size() <= 2 * columns;
  for (const EnvelopeColumn& column : envelope(excerpt.values, every_sample ? 2 * columns : columns)) {
    if (column.missing > 0) {
      plot.line(line, style);
      line.clear();
      if (column.empty()) continue;
    }
    add(std::min(column.lowest_at, column.highest_at),
        column.lowest_at < column.highest_at ? column.lowest : column.highest);
    if (column.lowest_at != column.highest_at)
      add(std::max(column.lowest_at, column.highest_at),
          column.lowest_at < column.highest_at ? column.highest : column.lowest);
    if (column.missing > 0) {
      plot.line(line, style);
      line.clear();
    }
  }
  plot.line(line, style);
}

}  // namespace pulsewright
