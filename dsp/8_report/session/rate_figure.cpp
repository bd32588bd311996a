#include <algorithm>
#include <cmath>

#include "8_report/export/effort_parts.hpp"
#include "8_report/export/rate_columns.hpp"
#include "8_report/figure/plot.hpp"
#include "intensity_bounds.hpp"
#include "session_figures.hpp"

namespace pulsewright {
namespace {

constexpr int height_px = 280;
constexpr int phases_px = 30;  ///< room for the phases under the plot
constexpr std::size_t most_columns = 1000;
constexpr int most_steps = 6;
/// A stretch that fills less of the width has no room for its name.
constexpr double least_named_share = 0.12;

AxisRange rates_shown(const std::vector<RateColumn>& columns, const Effort& effort) {
  std::optional<AxisRange> range;
  const auto include = [&range](double low, double high) {
    if (!range) range = AxisRange{low, high};
    range->low = std::min(range->low, low);
    range->high = std::max(range->high, high);
  };
  for (const RateColumn& column : columns)
    if (column.measured) include(column.low, column.high);
  if (!range) return {40, 200};
  if (effort.target) include(effort.target->low.value(), effort.target->high.value());
  if (effort.person.own_ceiling) include(effort.person.own_ceiling->value(), effort.person.own_ceiling->value());
  return rounded_out(*range, most_steps);
}

void draw_bands(Plot& plot, Figure& figure, const Effort& effort, const AxisRange& range, const Words& words) {
  for (const IntensityBand& band : intensity_bands(effort)) {
    const char* style = intensity_style(band.intensity);
    const std::string name = intensity_name(band.intensity, words);
    plot.band(band.low ? band.low->value() : range.low, band.high ? band.high->value() : range.high, style, name);
    const auto whole = [&words](const std::optional<BeatsPerMinute>& rate) {
      return rate ? words.count(whole_beats(*rate)) : std::string();
    };
    const std::string bounds = !band.low ? words("range.below_rate", {{"high", whole(band.high)}})
                               : !band.high
                                   ? words("range.from_rate", {{"low", whole(band.low)}})
                                   : words("range.rate", {{"low", whole(band.low)}, {"high", whole(band.high)}});
    figure.legend.push_back({LegendEntry::Swatch::area, style, name + ", " + bounds});
  }
}

void draw_target(Plot& plot, Figure& figure, const Effort& effort, const Words& words) {
  if (effort.target) {
    const TargetZone& target = *effort.target;
    const std::string text = words("rate.target", {{"low", words.count(whole_beats(target.low))},
                                                   {"high", words.count(whole_beats(target.high))}});
    plot.level(target.low.value(), "target");
    plot.level(target.high.value(), "target");
    figure.legend.push_back({LegendEntry::Swatch::line, "target", text});
  }
  if (effort.person.own_ceiling) {
    plot.level(effort.person.own_ceiling->value(), "ceiling");
    figure.legend.push_back({LegendEntry::Swatch::line, "ceiling",
                             words("rate.ceiling", {{"rate", words.count(whole_beats(*effort.person.own_ceiling))}})});
  }
}

void draw_missing(Plot& plot, const std::vector<Span>& stretches, Seconds duration, const Words& words) {
  for (const Span& stretch : stretches) {
    plot.stretch(stretch.start.value(), stretch.end.value(), "missing");
    if (stretch.length() / duration > least_named_share)
      plot.label(words("not_measured"), (stretch.start.value() + stretch.end.value()) / 2, height_px / 2.0, "middle",
                 "inside wide");
  }
}

/// Draws each run of measured columns; columns that hold several windows from their lowest to their highest.
void draw_rates(Plot& plot, const std::vector<RateColumn>& columns) {
  for (std::size_t i = 0; i < columns.size();) {
    if (!columns[i].measured) {
      ++i;
      continue;
    }
    std::vector<PlotPoint> line, area, below;
    for (; i < columns.size() && columns[i].measured; ++i) {
      const RateColumn& column = columns[i];
      area.push_back({column.centre(), column.high});
      below.push_back({column.centre(), column.low});
      line.push_back({column.centre(), column.lowest});
      if (column.lowest != column.highest) line.push_back({column.centre(), column.highest});
    }
    area.insert(area.end(), below.rbegin(), below.rend());
    plot.area(area, "interval");
    plot.line(line, "rate");
  }
}

/// Bars under the plot, work filled, each with its name where there is room.
std::string draw_phases(Plot& plot, Figure& figure, const SessionEffort& session, const Words& words) {
  constexpr double bar_top_px = 5, bar_bottom_px = 11, name_px = 25;
  const double session_s = seconds_of(session.effort.duration_us);
  std::string list;
  bool any_work = false, any_other = false;
  for (const Phase& phase : session.phases) {
    const Span span = phase.span();
    const bool work = phase.kind == PhaseKind::work;
    plot.box(span.start.value(), span.end.value(), height_px + bar_top_px, height_px + bar_bottom_px,
             work ? "bar-in" : "rail");
    (work ? any_work : any_other) = true;
    if (&phase != &session.phases.front())
      plot.symbol("mark-border", span.start.value(), height_px + 0.5 * (bar_top_px + bar_bottom_px), "symbol");
    const std::string name = words(std::string("phase.") + to_string(phase.kind));
    if (span.length().value() > least_named_share * session_s)
      plot.label(name, (span.start.value() + span.end.value()) / 2, height_px + name_px, "middle", "tick wide");
    list += (list.empty() ? "" : "; ") + name + " " + format_clock(span.start) + " - " + format_clock(span.end);
  }
  if (any_work) figure.legend.push_back({LegendEntry::Swatch::area, "bar-in", words("phase.work")});
  if (any_other) figure.legend.push_back({LegendEntry::Swatch::area, "rail", words("phases.others")});
  return words("phases.alt", {{"list", list}});
}

std::string describe_course(const Analysis& analysis, const std::vector<Span>& missing, const Words& words) {
  const RateWindow* lowest = nullptr;
  const RateWindow* highest = nullptr;
  for (const RateWindow& window : analysis.rates.windows) {
    if (!window.rate) continue;
    if (lowest == nullptr || *window.rate < *lowest->rate) lowest = &window;
    if (highest == nullptr || *highest->rate < *window.rate) highest = &window;
  }
  if (lowest == nullptr) return words("rate.alt_nothing");
  Seconds unmeasured;
  for (const Span& stretch : missing) unmeasured += stretch.length();
  return words("rate.alt", {{"length", words.length(analysis.rates.duration)},
                            {"low", words.count(whole_beats(*lowest->rate))},
                            {"low_time", format_clock(lowest->window.start)},
                            {"high", words.count(whole_beats(*highest->rate))},
                            {"high_time", format_clock(highest->window.start)},
                            {"unmeasured", words.length(unmeasured)},
                            {"stretches", words.count(static_cast<std::int64_t>(missing.size()))}});
}

}  // namespace

Figure rate_figure(const Analysis& analysis, const SessionEffort* session, const Words& words) {
  const RateSeries& rates = analysis.rates;
  const std::vector<RateColumn> columns = rate_columns(rates, most_columns);
  const std::vector<Span> missing = unmeasured_stretches(rates);
  const AxisRange time{0, std::max(rates.duration.value(), 1.0)};
  const AxisRange range = rates_shown(columns, analysis.effort);

  Figure figure;
  figure.id = "rate";
  figure.title = words("rate.title");
  figure.caption = words("rate.caption", {{"window", words.number(rates.options.window.value(), 0)},
                                          {"step", words.number(rates.options.step.value(), 0)}});
  figure.alt = describe_course(analysis, missing, words);
  figure.y_title = words("unit.bpm");
  const bool measured = std::any_of(columns.begin(), columns.end(), [](const RateColumn& c) { return c.measured; });
  const bool phases = measured && session != nullptr && !session->phases.empty();
  Plot plot(time, range, height_px, phases ? phases_px : 0);
  plot.x_axis(clock_ticks(time), words(clock_title(time)));
  plot.y_axis(value_ticks(range, most_steps, words.numbers()));
  if (measured) {
    figure.legend.push_back({LegendEntry::Swatch::line, "rate", words("rate.line")});
    figure.legend.push_back({LegendEntry::Swatch::area, "interval", words("rate.interval")});
  }
  draw_bands(plot, figure, analysis.effort, range, words);
  draw_target(plot, figure, analysis.effort, words);
  draw_missing(plot, missing, rates.duration, words);
  draw_rates(plot, columns);
  if (!missing.empty()) figure.legend.push_back({LegendEntry::Swatch::area, "missing", words("not_measured")});
  if (phases) figure.alt.append(" ").append(draw_phases(plot, figure, *session, words));
  plot.finish(figure);
  const bool in_columns = rates.windows.size() > most_columns;
  figure.csv = in_columns ? rate_columns_csv(columns, words.numbers()) : rate_csv(rates, words.numbers());
  figure.readout = words(in_columns ? "rate.readout_columns" : "rate.readout");
  figure.readout_missing = words(in_columns ? "rate.readout_columns_missing" : "rate.readout_missing");
  return figure;
}

}  // namespace pulsewright
