#include <algorithm>
#include <cmath>

#include "8_report/export/effort_parts.hpp"
#include "8_report/figure/plot.hpp"
#include "8_report/text/csv_table.hpp"
#include "session_figures.hpp"

namespace pulsewright {
namespace {

constexpr int height_px = 220;
constexpr int most_steps = 5;
constexpr double before_s = 60, after_s = 240;  ///< what is shown about the stop
constexpr double whole_s = 30;                  ///< the time axis begins at a multiple of it
constexpr double curve_step_s = 1;
constexpr double name_above_px = 10, name_below_px = 20;
constexpr double beside_stroke = 0.008;  ///< a number begins so far right of its dotted stroke, of the width

/// What was fitted to the phase after the last bout of work; null when the rate changed too little there.
const PhaseKinetics* kinetics_after_work(const SessionEffort& session) {
  std::size_t after = 0;
  for (std::size_t k = 0; k < session.phases.size(); ++k)
    if (session.phases[k].kind == PhaseKind::work) after = k + 1;
  for (const PhaseKinetics& kinetics : session.kinetics)
    if (!kinetics.rising && kinetics.phase == after) return &kinetics;
  return nullptr;
}

/// Times of the stop and one and two minutes later, with the rate there.
struct Mark {
  double time_s = 0;
  std::optional<BeatsPerMinute> rate;
};

std::vector<Mark> marks_of(const Recovery& recovery) {
  constexpr double minute_s = 60;
  const double stop = recovery.stop.value();
  return {{stop, recovery.at_stop},
          {stop + minute_s, recovery.after_one_minute},
          {stop + 2 * minute_s, recovery.after_two_minutes}};
}

std::string falls(const Recovery& recovery, const Words& words) {
  const auto beats = [&words](BeatsPerMinute rate) { return words.count(whole_beats(rate)); };
  if (!recovery.first_minute_fall) return words("recovery.no_fall");
  std::string said = words("recovery.first", {{"fall", beats(*recovery.first_minute_fall)}});
  if (recovery.second_minute_fall)
    said.append(" ").append(words("recovery.second", {{"fall", beats(*recovery.second_minute_fall)}}));
  return said;
}

std::string fit_said(const PhaseKinetics* kinetics, const Words& words) {
  if (kinetics == nullptr) return words("recovery.no_fit");
  if (!kinetics->fit) return words("recovery.no_fit_because", {{"reason", kinetics->reason}});
  return words("recovery.fit", {{"tau", words.number(kinetics->fit->tau.value(), 0)},
                                {"low", words.number(kinetics->fit->low.value(), 0)},
                                {"high", words.number(kinetics->fit->high.value(), 0)}});
}

}  // namespace

std::optional<Figure> recovery_figure(const SessionEffort& session, const Words& words) {
  if (!session.recovery || session.cells.empty()) return std::nullopt;
  const Recovery& recovery = *session.recovery;
  const double stop = recovery.stop.value();
  const double session_s = seconds_of(session.effort.duration_us);
  const AxisRange time{std::max(whole_s * std::floor((stop - before_s) / whole_s), 0.0),
                       std::min(stop + after_s, session_s)};
  if (!(time.length() > 1)) return std::nullopt;
  const PhaseKinetics* kinetics = kinetics_after_work(session);
  const TimeConstant* fit = kinetics != nullptr && kinetics->fit ? &*kinetics->fit : nullptr;
  const double fit_start = fit != nullptr ? std::max(fit->curve.start.value(), time.low) : stop;
  const double fit_end =
      fit != nullptr ? std::min(session.phases[kinetics->phase].span().end.value(), time.high) : stop;

  std::vector<std::vector<PlotPoint>> runs(1);
  std::vector<Span> missing;
  std::optional<AxisRange> rates;
  CsvTable table({"start_s", "end_s", "after_stop_s", "bpm", "fitted_bpm"}, words.numbers());
  for (const EffortCell& cell : session.cells) {
    const double start = seconds_of(cell.start_us), end = start + seconds_of(cell.length_us),
                 centre = 0.5 * (start + end);
    if (centre < time.low || centre > time.high) continue;
    const bool fitted = fit != nullptr && centre >= fit_start && centre <= fit_end;
    table.number(start, 3).number(end, 3).number(centre - stop, 3).number(number_of(cell.rate), 2);
    table.number(fitted ? std::optional<double>(fit->curve.at(Seconds{centre})) : std::nullopt, 2).end_row();
    if (!cell.rate) {
      missing.push_back({Seconds{start}, Seconds{end}});
      if (!runs.back().empty()) runs.emplace_back();
      continue;
    }
    const double rate = cell.rate->value();
    if (!rates) rates = AxisRange{rate, rate};
    rates->low = std::min(rates->low, rate);
    rates->high = std::max(rates->high, rate);
    runs.back().push_back({centre, rate});
  }
  if (!rates) return std::nullopt;
  const AxisRange range = rounded_out(*rates, most_steps);

  Figure figure;
  figure.id = "recovery";
  figure.title = words("recovery.title");
  figure.y_title = words("unit.bpm");
  Plot plot(time, range, height_px);
  plot.x_axis(clock_ticks(time), words(clock_title(time)));
  plot.y_axis(value_ticks(range, most_steps, words.numbers()));
  for (const Span& stretch : missing) plot.stretch(stretch.start.value(), stretch.end.value(), "missing");
  for (const Mark& mark : marks_of(recovery))
    if (mark.time_s <= time.high) plot.strokes({{mark.time_s, range.low, range.high}}, "middle");
  if (fit != nullptr) {
    std::vector<PlotPoint> curve;
    for (double t = fit_start; t <= fit_end; t += curve_step_s) curve.push_back({t, fit->curve.at(Seconds{t})});
    plot.line(curve, "fitted");
  }
  for (const std::vector<PlotPoint>& run : runs) plot.line(run, "rate");
  for (const Mark& mark : marks_of(recovery)) {
    if (!mark.rate || mark.time_s > time.high) continue;
    const double y = height_px * (1 - (mark.rate->value() - range.low) / range.length());
    plot.symbol("mark-person", mark.time_s, y, "symbol");
    plot.label(words.count(whole_beats(*mark.rate)), mark.time_s + beside_stroke * time.length(),
               y < 2 * name_above_px ? y + name_below_px : y - name_above_px, "start", "inside");
  }
  plot.finish(figure);
  figure.legend.push_back({LegendEntry::Swatch::line, "rate", words("rate.line")});
  if (fit != nullptr) figure.legend.push_back({LegendEntry::Swatch::line, "fitted", words("recovery.curve")});
  figure.legend.push_back({LegendEntry::Swatch::line, "middle", words("recovery.times")});
  if (!missing.empty()) figure.legend.push_back({LegendEntry::Swatch::area, "missing", words("not_measured")});
  figure.caption = falls(recovery, words) + " " + fit_said(kinetics, words);
  if (!recovery.stood_still) figure.caption.append(" ").append(words("recovery.went_on"));
  figure.alt = words("recovery.alt", {{"stop", format_clock(recovery.stop)},
                                      {"low", words.number(rates->low, 0)},
                                      {"high", words.number(rates->high, 0)}}) +
               " " + falls(recovery, words);
  figure.csv = table.take();
  return figure;
}

}  // namespace pulsewright
