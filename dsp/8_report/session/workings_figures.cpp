#include "workings_figures.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "8_report/text/csv_table.hpp"
#include "flagged_runs.hpp"
#include "signal_drawing.hpp"

namespace pulsewright {
namespace {

constexpr int height_px = 130;
constexpr int lane_px = 24;
constexpr int mark_px = 13;
constexpr int most_steps = 4;
/// Half the length of the short line that shows what is usual for a candidate.
constexpr Seconds usual_reach{0.12};

Plot plot_of(const Workings& workings, const AxisRange& range, int lane, Figure& figure) {
  const AxisRange time{workings.stretch.start.value(), workings.stretch.end.value()};
  Plot plot(time, range, height_px, lane);
  plot.x_axis(clock_ticks(time), workings.words(clock_title(time)));
  plot.y_axis(value_ticks(range, most_steps, workings.words.numbers()));
  figure.scrolls = true;
  return plot;
}

std::string unit_of(const Workings& workings) {
  const std::string& unit = workings.first_channel().unit;
  return unit.empty() ? workings.words("unit.none") : unit;
}

/// The samples of the stretch as they stand in the file, on a uniform grid where their times are uneven.
Signal stored_samples(const Channel& channel, Span stretch) {
  Channel part = channel;
  part.samples.clear();
  part.times.clear();
  if (channel.samples.empty()) return uniform_signal(part);
  const auto first = static_cast<std::ptrdiff_t>(channel.sample_at(stretch.start).value());
  const auto last = static_cast<std::ptrdiff_t>(channel.sample_at(stretch.end).value()) + 1;
  part.samples.assign(channel.samples.begin() + first, channel.samples.begin() + last);
  if (!channel.times.empty()) part.times.assign(channel.times.begin() + first, channel.times.begin() + last);
  part.start = channel.time_of_sample(SampleIndex{first});
  return uniform_signal(part);
}

std::string samples_csv(const SignalExcerpt& excerpt, const NumberStyle& style) {
  CsvTable table({"time_s", "value"}, style);
  for (std::size_t i = 0; i < excerpt.values.size(); ++i) {
    const float value = excerpt.values[i];
    table.number(excerpt.start.value() + static_cast<double>(i) / excerpt.rate.value(), 6);
    table.number(std::isnan(value) ? std::nullopt : std::optional<double>(static_cast<double>(value)), 6).end_row();
  }
  return table.take();
}

/// A signal and nothing else.
Figure signal_figure(const Workings& workings, const Signal& signal, const char* id, std::string title) {
  const SignalExcerpt excerpt = excerpt_of(signal, workings.stretch);
  const AxisRange range = range_of(excerpt.values, most_steps);
  Figure figure;
  figure.id = id;
  figure.title = std::move(title);
  figure.y_title = unit_of(workings);
  figure.alt = workings.words("workings.signal_alt", {{"low", workings.words.number(range.low, 2)},
                                                      {"high", workings.words.number(range.high, 2)},
                                                      {"unit", figure.y_title}});
  Plot plot = plot_of(workings, range, 0, figure);
  draw_signal(plot, excerpt, "signal");
  plot.finish(figure);
  figure.csv = samples_csv(excerpt, workings.words.numbers());
  return figure;
}

std::string mark_of(BeatVerdict verdict) { return std::string("mark-") + to_string(verdict); }

const char* mark_style(BeatVerdict verdict) { return verdict == BeatVerdict::accepted ? "symbol" : "symbol rejected"; }

}  // namespace

Figure stored_samples_figure(const Workings& workings) {
  return signal_figure(workings, stored_samples(workings.first_channel(), workings.stretch), "stored",
                       workings.words("workings.raw.title"));
}

Figure filtered_figure(const Workings& workings) {
  return signal_figure(workings, workings.first_signal(), "filtered", workings.words("workings.filtered.title"));
}

Figure detection_figure(const Workings& workings, const DetectionTrace& trace) {
  const Words& words = workings.words;
  const bool pulse = workings.chosen.kind == ChannelKind::pulse;
  const auto function_at = [&trace](Seconds time) {
    const auto at = std::lround(samples_in(time - trace.start, trace.rate));
    return at >= 0 && at < static_cast<long>(trace.function.size())
               ? static_cast<double>(trace.function[static_cast<std::size_t>(at)])
               : 0.0;
  };
  AxisRange range = range_of(trace.function, most_steps);
  for (const TracedCandidate& candidate : trace.candidates) {
    const double foot = pulse ? function_at(candidate.time) - candidate.size : 0.0;
    range.low = std::min(range.low, foot);
    range.high = std::max({range.high, foot + candidate.usual, foot + candidate.size});
  }
  range = rounded_out(range, most_steps);

  Figure figure;
  figure.id = "detection";
  figure.title = words("workings.detect.title");
  figure.y_title =
      pulse && workings.chosen.signals.size() > 1 ? words("workings.detect.pulse_unit") : unit_of(workings);
  Plot plot = plot_of(workings, range, lane_px, figure);
  CsvTable table({"time_s", "size", "usual", "log_odds", "verdict"}, words.numbers());
  std::vector<Plot::Stroke> bars;
  std::int64_t accepted = 0;
  std::set<BeatVerdict> verdicts;
  for (const TracedCandidate& candidate : trace.candidates) {
    const double time = candidate.time.value();
    const double foot = pulse ? function_at(candidate.time) - candidate.size : 0.0;
    bars.push_back({time, foot, foot + candidate.size});
    plot.symbol(mark_of(candidate.verdict).c_str(), time, height_px + mark_px, mark_style(candidate.verdict));
    verdicts.insert(candidate.verdict);
    accepted += candidate.verdict == BeatVerdict::accepted ? 1 : 0;
    table.number(time, 6).number(candidate.size, 6).number(candidate.usual, 6).number(candidate.log_odds, 3);
    table.text(to_string(candidate.verdict)).end_row();
  }
  plot.strokes(bars, "size");
  const SignalExcerpt function{trace.function, trace.start, trace.rate};
  draw_signal(plot, function, "function");
  for (const TracedCandidate& candidate : trace.candidates) {
    const double foot = pulse ? function_at(candidate.time) - candidate.size : 0.0;
    const double usual = foot + candidate.usual;
    plot.line({{(candidate.time - usual_reach).value(), usual}, {(candidate.time + usual_reach).value(), usual}},
              candidate.verdict == BeatVerdict::accepted ? "usual" : "usual rejected");
  }
  plot.finish(figure);
  figure.alt =
      words("workings.detect.alt", {{"candidates", words.count(static_cast<std::int64_t>(trace.candidates.size()))},
                                    {"accepted", words.count(accepted)}});
  figure.legend = {{LegendEntry::Swatch::line, "function", words("workings.detect.function")},
                   {LegendEntry::Swatch::line, "size", words("workings.detect.size")},
                   {LegendEntry::Swatch::line, "usual", words("workings.detect.usual")}};
  for (const BeatVerdict verdict : verdicts)
    figure.legend.push_back(
        {LegendEntry::Swatch::symbol, mark_of(verdict), words(std::string("verdict.") + to_string(verdict))});
  figure.csv = table.take();
  return figure;
}

Figure beats_figure(const Workings& workings) {
  const Words& words = workings.words;
  const SignalExcerpt excerpt = excerpt_of(workings.first_signal(), workings.stretch);
  const AxisRange range = range_of(excerpt.values, most_steps);
  Figure figure;
  figure.id = "beats";
  figure.title = words("workings.beats.title");
  figure.y_title = unit_of(workings);
  Plot plot = plot_of(workings, range, lane_px, figure);
  CsvTable table({"time_s", "sample", "confidence"}, words.numbers());
  std::vector<Plot::Stroke> lines;
  for (const Beat& beat : workings.analysis.beats.accepted()) {
    if (!workings.stretch.contains(beat.time)) continue;
    lines.push_back({beat.time.value(), range.low, range.high});
    plot.symbol("mark-accepted", beat.time.value(), height_px + mark_px, "symbol");
    table.number(beat.time.value(), 6).count(beat.sample.value()).number(beat.confidence, 3).end_row();
  }
  plot.strokes(lines, "beat");
  draw_signal(plot, excerpt, "signal");
  plot.finish(figure);
  figure.alt = words("workings.beats.alt", {{"count", words.count(static_cast<std::int64_t>(lines.size()))}});
  figure.legend = {{LegendEntry::Swatch::symbol, "mark-accepted", words("verdict.accepted")}};
  figure.csv = table.take();
  return figure;
}

Figure cleaning_figure(const Workings& workings) {
  const Words& words = workings.words;
  const Span stretch = workings.stretch;
  const auto touches = [stretch](Seconds start, Seconds end) { return start < stretch.end && stretch.start < end; };
  std::vector<Interval> shown;
  std::vector<float> values;
  for (const Interval& interval : workings.analysis.intervals.intervals) {
    if (!touches(interval.start, interval.end)) continue;
    shown.push_back(interval);
    values.push_back(static_cast<float>(interval.original_ms));
  }
  std::vector<NormalInterval> cleaned = normal_series(workings.analysis.intervals);
  std::erase_if(cleaned, [&](const NormalInterval& interval) { return !touches(interval.start, interval.end); });
  for (const NormalInterval& interval : cleaned) values.push_back(static_cast<float>(interval.ms));
  const AxisRange range = range_of(values, most_steps);

  Figure figure;
  figure.id = "cleaning";
  figure.title = words("workings.intervals.title");
  figure.y_title = words("workings.intervals.y");
  Plot plot = plot_of(workings, range, flagged_rows_px, figure);
  std::int64_t flagged = 0;
  CsvTable table({"start_s", "end_s", "original_ms", "verdict", "corrected_ms"}, words.numbers());
  for (const Interval& interval : shown) {
    const double start = interval.start.value(), end = interval.end.value();
    plot.line({{start, interval.original_ms}, {end, interval.original_ms}}, "original");
    table.number(start, 6).number(end, 6).number(interval.original_ms, 3).text(to_string(interval.verdict));
    table.number(interval.corrected_ms, 3).end_row();
    flagged += interval.verdict == IntervalVerdict::normal ? 0 : 1;
  }
  for (const NormalInterval& interval : cleaned)
    plot.line({{interval.start.value(), interval.ms}, {interval.end.value(), interval.ms}}, "corrected");
  draw_flagged_runs(plot, shown, height_px + 2, height_px + mark_px + 2, words);
  plot.finish(figure);
  figure.alt = words("workings.intervals.alt", {{"count", words.count(static_cast<std::int64_t>(shown.size()))},
                                                {"flagged", words.count(flagged)}});
  figure.legend = {{LegendEntry::Swatch::line, "original", words("workings.intervals.original")},
                   {LegendEntry::Swatch::line, "corrected", words("workings.intervals.corrected")}};
  if (flagged > 0) figure.legend.push_back({LegendEntry::Swatch::area, "flagged", words("strip.flagged")});
  figure.csv = table.take();
  return figure;
}

Figure windows_figure(const Workings& workings) {
  const Words& words = workings.words;
  std::vector<float> values;
  std::vector<Plot::Stroke> intervals;
  std::vector<RateWindow> shown;
  for (const RateWindow& window : workings.analysis.rates.windows) {
    if (!(window.window.start < workings.stretch.end && workings.stretch.start < window.window.end)) continue;
    shown.push_back(window);
    if (!window.rate) continue;
    const double low = window.low.value_or(*window.rate).value(), high = window.high.value_or(*window.rate).value();
    values.push_back(static_cast<float>(low));
    values.push_back(static_cast<float>(high));
    // In the middle of what is seen of the window.
    const Seconds from = std::max(window.window.start, workings.stretch.start);
    const Seconds to = std::min(window.window.end, workings.stretch.end);
    intervals.push_back({((from + to) / 2).value(), low, high});
  }
  Figure figure;
  figure.id = "windows";
  figure.title = words("workings.rate.title");
  figure.y_title = words("unit.bpm");
  Plot plot = plot_of(workings, range_of(values, most_steps), 0, figure);
  plot.strokes(intervals, "size");
  for (const RateWindow& window : shown)
    if (window.rate)
      plot.line(
          {{window.window.start.value(), window.rate->value()}, {window.window.end.value(), window.rate->value()}},
          "rate");
  plot.finish(figure);
  figure.alt = words("workings.rate.alt", {{"count", words.count(static_cast<std::int64_t>(shown.size()))},
                                           {"measured", words.count(static_cast<std::int64_t>(values.size() / 2))}});
  figure.legend = {{LegendEntry::Swatch::line, "rate", words("workings.rate.window")},
                   {LegendEntry::Swatch::line, "size", words("rate.interval")}};
  RateSeries part;
  part.windows = shown;
  figure.csv = rate_csv(part, words.numbers());
  return figure;
}

}  // namespace pulsewright
