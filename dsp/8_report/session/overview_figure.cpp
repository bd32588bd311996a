#include <algorithm>
#include <cmath>

#include "8_report/figure/envelope.hpp"
#include "8_report/figure/plot.hpp"
#include "8_report/text/csv_table.hpp"
#include "session_figures.hpp"
#include "signal_drawing.hpp"

namespace pulsewright {
namespace {

constexpr int height_px = 150;
constexpr int lane_px = 44;
/// The bars of quality stand in the lane between these heights below the plot.
constexpr int quality_top_px = 12, quality_bottom_px = 40;
constexpr std::size_t most_columns = 1000;
constexpr int most_steps = 4;

/// The poorest second that a column of the quality lane covers.
struct QualityColumn {
  std::size_t first = 0, last = 0;  ///< seconds
  SecondQuality poorest;
};

std::vector<QualityColumn> quality_columns(const std::vector<SecondQuality>& quality) {
  std::vector<QualityColumn> columns(std::min(most_columns, quality.size()));
  for (std::size_t k = 0; k < columns.size(); ++k) {
    QualityColumn& column = columns[k];
    column.first = k * quality.size() / columns.size();
    column.last = (k + 1) * quality.size() / columns.size();
    column.poorest =
        *std::min_element(quality.begin() + static_cast<std::ptrdiff_t>(column.first),
                          quality.begin() + static_cast<std::ptrdiff_t>(column.last),
                          [](const SecondQuality& a, const SecondQuality& b) { return a.index < b.index; });
  }
  return columns;
}

/// Bars of the lane, neighbours of equal height in one.
void draw_quality(Plot& plot, const std::vector<QualityColumn>& columns, double start) {
  const auto height = [](const QualityColumn& column) {
    return std::lround((quality_bottom_px - quality_top_px) *
                       std::clamp(static_cast<double>(column.poorest.index), 0.0, 1.0));
  };
  for (std::size_t i = 0; i < columns.size();) {
    std::size_t j = i + 1;
    while (j < columns.size() && height(columns[j]) == height(columns[i])) ++j;
    const double from = start + static_cast<double>(columns[i].first);
    const double to = start + static_cast<double>(columns[j - 1].last);
    plot.box(from, to, height_px + quality_top_px, height_px + quality_bottom_px, "rail");
    if (height(columns[i]) > 0)
      plot.box(from, to, static_cast<double>(height_px + quality_bottom_px - height(columns[i])),
               height_px + quality_bottom_px, "quality");
    i = j;
  }
}

std::string fault_of(const SecondQuality& quality) {
  switch (quality.fault) {
    case QualityFault::none: return "";
    case QualityFault::gap: return "gap";
    case QualityFault::flat: return "flat";
    case QualityFault::clipped: return "clipped";
    case QualityFault::noise: break;
  }
  return "noise";
}

/// What is drawn: the extremes of each column, and the poorest second of each column of the lane.
std::string drawn_data(const std::vector<EnvelopeColumn>& columns, const std::vector<QualityColumn>& quality,
                       const Signal& signal, const NumberStyle& style) {
  CsvTable table({"start_s", "end_s", "lowest", "highest", "missing_samples_count", "poorest_quality", "fault"}, style);
  const auto time = [&signal](std::size_t sample) {
    return signal.start.value() + static_cast<double>(sample) / signal.rate.value();
  };
  for (const EnvelopeColumn& column : columns) {
    const double start = time(column.first), end = time(column.last);
    const auto seen = [&column](float value) {
      return column.empty() ? std::nullopt : std::optional<double>(static_cast<double>(value));
    };
    std::optional<double> poorest;
    std::string fault;
    for (const QualityColumn& second : quality) {
      const double from = signal.start.value() + static_cast<double>(second.first);
      const double to = signal.start.value() + static_cast<double>(second.last);
      if (to <= start || from >= end) continue;
      if (poorest && *poorest <= static_cast<double>(second.poorest.index)) continue;
      poorest = static_cast<double>(second.poorest.index);
      fault = fault_of(second.poorest);
    }
    table.number(start, 3).number(end, 3).number(seen(column.lowest), 6).number(seen(column.highest), 6);
    table.count(static_cast<std::int64_t>(column.missing)).number(poorest, 2).text(fault).end_row();
  }
  return table.take();
}

AxisRange values_shown(const std::vector<EnvelopeColumn>& columns) {
  std::optional<AxisRange> range;
  for (const EnvelopeColumn& column : columns) {
    if (column.empty()) continue;
    const double low = static_cast<double>(column.lowest), high = static_cast<double>(column.highest);
    if (!range) range = AxisRange{low, high};
    range->low = std::min(range->low, low);
    range->high = std::max(range->high, high);
  }
  return rounded_out(range.value_or(AxisRange{0, 1}), most_steps);
}

}  // namespace

Figure overview_figure(const Analysis& analysis, const Recording& recording, const ChosenSignals& chosen,
                       const Words& words) {
  const Signal& signal = chosen.signals.front();
  const Channel& channel = recording.channels[chosen.channels.front()];
  const std::vector<EnvelopeColumn> columns = envelope(signal.values, most_columns);
  const std::vector<QualityColumn> quality = quality_columns(signal.quality);
  const AxisRange time{0, std::max(recording.duration.value(), 1.0)};
  const AxisRange range = values_shown(columns);

  Figure figure;
  figure.id = "overview";
  figure.title = words("overview.title");
  figure.y_title = channel.unit.empty() ? words("unit.none") : channel.unit;
  Plot plot(time, range, height_px, quality.empty() ? 0 : lane_px);
  plot.x_axis(clock_ticks(time), words(clock_title(time)));
  plot.y_axis(value_ticks(range, most_steps, words.numbers()));
  Seconds unreadable;
  for (const Span& span : analysis.beats.unreadable) {
    plot.stretch(span.start.value(), span.end.value(), "missing");
    unreadable += span.length();
  }
  draw_signal(plot, {signal.values, signal.start, signal.rate}, "signal", most_columns);
  draw_quality(plot, quality, signal.start.value());
  plot.finish(figure);

  const auto poor = std::count_if(signal.quality.begin(), signal.quality.end(),
                                  [](const SecondQuality& second) { return second.index < 0.5F; });
  figure.caption = words("overview.caption", {{"channel", channel.name}});
  if (chosen.signals.size() > 1) {
    figure.caption += ' ';
    figure.caption +=
        words("overview.of_several", {{"count", words.count(static_cast<std::int64_t>(chosen.signals.size()))}});
  }
  figure.alt = words("overview.alt", {{"channel", channel.name},
                                      {"length", words.length(recording.duration)},
                                      {"low", words.number(range.low, 2)},
                                      {"high", words.number(range.high, 2)},
                                      {"unit", figure.y_title},
                                      {"unreadable", words.length(unreadable)},
                                      {"poor", words.count(poor)}});
  figure.legend.push_back({LegendEntry::Swatch::line, "signal", words("overview.signal")});
  if (!analysis.beats.unreadable.empty())
    figure.legend.push_back({LegendEntry::Swatch::area, "missing", words("not_readable")});
  if (!quality.empty()) figure.legend.push_back({LegendEntry::Swatch::area, "quality", words("overview.quality")});
  figure.readout = words("overview.readout");
  figure.readout_missing = words("overview.readout_missing");
  figure.csv = drawn_data(columns, quality, signal, words.numbers());
  return figure;
}

}  // namespace pulsewright
