#include "workings_spectrum.hpp"

#include <algorithm>
#include <cmath>

#include "8_report/figure/plot.hpp"
#include "8_report/text/csv_table.hpp"
#include "pulsewright/spectrum.hpp"
#include "signal_drawing.hpp"

namespace pulsewright {
namespace {

constexpr int height_px = 130;
constexpr int most_steps = 4;
constexpr double lowest_bpm = 30, highest_bpm = 230;
/// The path is shown so far to either side: whether a line is the heart shows in where it came from.
constexpr Seconds around{30.0};

Plot plot_over(const Span& span, const AxisRange& range, const Words& words, Figure& figure) {
  const AxisRange time{span.start.value(), span.end.value()};
  Plot plot(time, range, height_px);
  plot.x_axis(clock_ticks(time), words(clock_title(time)));
  plot.y_axis(value_ticks(range, most_steps, words.numbers()));
  figure.scrolls = true;
  return plot;
}

/// The window whose middle lies nearest to that of the stretch, with a rate.
const TrackPoint* middle_window(const Workings& workings) {
  const Seconds middle = 0.5 * (workings.stretch.start + workings.stretch.end);
  const TrackPoint* nearest = nullptr;
  double least = 0;
  for (const TrackPoint& point : workings.analysis.track->points) {
    if (!point.rate) continue;
    const double away = std::abs((0.5 * (point.window.start + point.window.end) - middle).value());
    if (nearest == nullptr || away < least) nearest = &point, least = away;
  }
  return nearest;
}

Figure quality_figure(const Workings& workings) {
  const Words& words = workings.words;
  const Signal& signal = workings.first_signal();
  Figure figure;
  figure.id = "quality";
  figure.title = words("workings.quality.title");
  figure.y_title = words("workings.quality.y");
  Plot plot = plot_over(workings.stretch, {0, 1}, words, figure);
  CsvTable table({"start_s", "quality"}, words.numbers());
  double sum = 0;
  int seconds = 0;
  for (std::size_t k = 0; k < signal.quality.size(); ++k) {
    const double start = signal.start.value() + static_cast<double>(k);
    if (start < workings.stretch.start.value() || start >= workings.stretch.end.value()) continue;
    const double index = static_cast<double>(signal.quality[k].index);
    plot.box(start, std::min(start + 1, workings.stretch.end.value()), height_px * (1 - index), height_px, "quality");
    table.number(start, 3).number(index, 3).end_row();
    sum += index;
    ++seconds;
  }
  plot.finish(figure);
  figure.alt = words("workings.quality.alt", {{"mean", words.number(seconds > 0 ? sum / seconds : 0.0, 2)}});
  figure.csv = table.take();
  return figure;
}

/// The first motion channel of the recording; nothing where there is none.
const Channel* motion_channel(const Recording& recording) {
  for (const Channel& channel : recording.channels)
    if (channel.kind == ChannelKind::acceleration || channel.kind == ChannelKind::gyro) return &channel;
  return nullptr;
}

Figure motion_figure(const Workings& workings, const Channel& channel) {
  const Words& words = workings.words;
  const Signal signal = uniform_signal(channel);
  const SignalExcerpt excerpt = excerpt_of(signal, workings.stretch);
  Figure figure;
  figure.id = "motion";
  figure.title = words("workings.motion.title");
  figure.y_title = channel.unit.empty() ? words("unit.none") : channel.unit;
  const AxisRange range = range_of(excerpt.values, most_steps);
  Plot plot = plot_over(workings.stretch, range, words, figure);
  draw_signal(plot, excerpt, "signal");
  plot.finish(figure);
  figure.alt = words("workings.signal_alt", {{"low", words.number(range.low, 1)},
                                             {"high", words.number(range.high, 1)},
                                             {"unit", figure.y_title}});
  CsvTable table({"time_s", "value"}, words.numbers());
  for (std::size_t i = 0; i < excerpt.values.size(); ++i) {
    const float value = excerpt.values[i];
    table.number(excerpt.start.value() + static_cast<double>(i) / excerpt.rate.value(), 6);
    table.number(std::isnan(value) ? std::nullopt : std::optional<double>(static_cast<double>(value)), 6).end_row();
  }
  figure.csv = table.take();
  return figure;
}

/// Power of the filtered signal over one window, at each rate, with its largest as 1; empty where a sample is missing.
std::vector<PlotPoint> powers_of(const Signal& signal, const Span& window) {
  const SignalExcerpt excerpt = excerpt_of(signal, window);
  const std::size_t length = excerpt.values.size();
  if (length < 16 || std::any_of(excerpt.values.begin(), excerpt.values.end(), [](float v) { return std::isnan(v); }))
    return {};
  constexpr std::size_t finer = 8;
  const std::size_t padded = 2 * ((finer * length + 1) / 2);
  PowerSpectrum spectrum(length, padded);
  const std::span<const double> powers = spectrum.of(std::span<const float>(excerpt.values));
  const double step_bpm = 60.0 * spectrum.bin_width(excerpt.rate).value();
  std::vector<PlotPoint> points;
  double most = 0;
  for (std::size_t k = 0; k < powers.size(); ++k) {
    const double bpm = step_bpm * static_cast<double>(k);
    if (bpm < lowest_bpm || bpm > highest_bpm) continue;
    points.push_back({bpm, powers[k]});
    most = std::max(most, powers[k]);
  }
  for (PlotPoint& point : points) point.y = most > 0 ? point.y / most : 0;
  return points;
}

Figure window_spectrum_figure(const Workings& workings, const TrackPoint& point) {
  const Words& words = workings.words;
  Figure figure;
  figure.id = "window-spectrum";
  figure.title = words("workings.spectrum.title");
  figure.y_title = words("workings.spectrum.y");
  const AxisRange across{lowest_bpm, highest_bpm};
  Plot plot(across, {0, 1}, height_px);
  plot.x_axis(value_ticks(across, 10, words.numbers()), words("unit.bpm"));
  plot.y_axis(value_ticks({0, 1}, 2, words.numbers()));
  const std::vector<PlotPoint> powers = powers_of(workings.first_signal(), point.window);
  if (!powers.empty()) plot.line(powers, "function");
  plot.strokes({{point.rate->value(), 0, 1}}, "usual");
  figure.legend = {{LegendEntry::Swatch::line, "function", words("workings.spectrum.power")},
                   {LegendEntry::Swatch::line, "usual", words("workings.spectrum.chosen")}};
  if (point.cadence && lowest_bpm <= point.cadence->value() && point.cadence->value() <= highest_bpm) {
    plot.strokes({{point.cadence->value(), 0, 1}}, "middle");
    figure.legend.push_back({LegendEntry::Swatch::line, "middle", words("workings.spectrum.cadence")});
  }
  plot.finish(figure);
  figure.alt = words("workings.spectrum.alt", {{"rate", words.count(whole_beats(*point.rate))}});
  CsvTable table({"bpm", "power"}, words.numbers());
  for (const PlotPoint& p : powers) table.number(p.x, 3).number(p.y, 6).end_row();
  figure.csv = table.take();
  return figure;
}

Figure path_figure(const Workings& workings) {
  const Words& words = workings.words;
  const Span shown{std::max(Seconds{0.0}, workings.stretch.start - around),
                   std::min(workings.analysis.track->duration, workings.stretch.end + around)};
  std::vector<float> values;
  std::vector<Plot::Stroke> intervals;
  std::vector<PlotPoint> path;
  CsvTable table({"start_s", "end_s", "bpm", "low_bpm", "high_bpm", "confidence"}, words.numbers());
  for (const TrackPoint& point : workings.analysis.track->points) {
    const Seconds middle = 0.5 * (point.window.start + point.window.end);
    if (!point.rate || middle < shown.start || shown.end < middle) continue;
    const double low = point.low.value_or(*point.rate).value(), high = point.high.value_or(*point.rate).value();
    values.push_back(static_cast<float>(low));
    values.push_back(static_cast<float>(high));
    intervals.push_back({middle.value(), low, high});
    path.push_back({middle.value(), point.rate->value()});
    table.number(point.window.start.value(), 3).number(point.window.end.value(), 3).number(point.rate->value(), 2);
    table.number(low, 2).number(high, 2).number(point.confidence, 3).end_row();
  }
  Figure figure;
  figure.id = "path";
  figure.title = words("workings.path.title");
  figure.y_title = words("unit.bpm");
  const AxisRange range = range_of(values, most_steps);
  Plot plot = plot_over(shown, range, words, figure);
  plot.stretch(workings.stretch.start.value(), workings.stretch.end.value(), "shade-2");
  plot.strokes(intervals, "size");
  if (!path.empty()) plot.line(path, "rate");
  plot.finish(figure);
  figure.alt = words("workings.path.alt", {{"count", words.count(static_cast<std::int64_t>(path.size()))}});
  figure.legend = {{LegendEntry::Swatch::line, "rate", words("workings.path.rate")},
                   {LegendEntry::Swatch::line, "size", words("rate.interval")},
                   {LegendEntry::Swatch::area, "shade-2", words("workings.path.stretch")}};
  figure.csv = table.take();
  return figure;
}

}  // namespace

bool rate_is_from_spectrum(const Workings& workings) {
  if (!workings.analysis.track || middle_window(workings) == nullptr) return false;
  const auto& windows = workings.analysis.rates.windows;
  return std::any_of(windows.begin(), windows.end(), [&](const RateWindow& window) {
    return window.method == RateMethod::spectrum && window.window.start < workings.stretch.end &&
           workings.stretch.start < window.window.end;
  });
}

std::vector<WorkingsStep> spectrum_steps(const Workings& workings) {
  const Words& words = workings.words;
  const TrackPoint& point = *middle_window(workings);
  std::vector<WorkingsStep> steps;
  steps.push_back({quality_figure(workings), words("workings.quality.text")});
  if (const Channel* motion = motion_channel(workings.recording))
    steps.push_back({motion_figure(workings, *motion), words("workings.motion.text", {{"channel", motion->name}})});
  steps.push_back({window_spectrum_figure(workings, point),
                   words("workings.spectrum.text", {{"from", format_clock(point.window.start)},
                                                    {"to", format_clock(point.window.end)},
                                                    {"rate", words.count(whole_beats(*point.rate))}})});
  steps.push_back({path_figure(workings), words("workings.path.text")});
  return steps;
}

}  // namespace pulsewright
