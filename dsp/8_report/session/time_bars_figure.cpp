#include <fmt/format.h>

#include <algorithm>

#include "8_report/figure/plot.hpp"
#include "8_report/text/csv_table.hpp"
#include "intensity_bounds.hpp"
#include "session_figures.hpp"

namespace pulsewright {
namespace {

constexpr double us_per_s = 1e6;
constexpr int row_px = 40;
constexpr int text_px = 14;  ///< from the top of a row to the foot of its words
constexpr int bar_top_px = 20, bar_bottom_px = 34;

/// One bar: what, how long.
struct TimeBar {
  std::string key;  ///< in the table of data
  std::string name;
  std::int64_t us = 0;
  const char* style;
};

/// Bars on one scale, from nothing to the whole recording, each under its name and its length in words.
Figure bars_figure(const std::vector<TimeBar>& bars, std::int64_t whole_us, const Words& words) {
  const double whole = std::max(1.0, static_cast<double>(whole_us) / us_per_s);
  const auto height = static_cast<int>(bars.size()) * row_px;
  Figure figure;
  Plot plot({0, whole}, {0, 1}, height);
  CsvTable table({"band", "duration_s", "share_percent"}, words.numbers());
  int top = 0;
  for (const TimeBar& bar : bars) {
    const double length = static_cast<double>(bar.us) / us_per_s;
    const double share = 100 * length / whole;
    const std::string said =
        words("bars.row", {{"length", words.length(Seconds{length})}, {"share", words.number(share, 0)}});
    plot.label(bar.name, 0, top + text_px, "start", "row");
    plot.label(said, whole, top + text_px, "end", "row");
    plot.box(0, whole, top + bar_top_px, top + bar_bottom_px, "rail");
    if (bar.us > 0)
      plot.box(0, length, top + bar_top_px, top + bar_bottom_px, fmt::format("bar {}", bar.style).c_str());
    table.text(bar.key).number(length, 6).number(share, 2).end_row();
    figure.alt += (figure.alt.empty() ? "" : "; ") + bar.name + ": " + said;
    top += row_px;
  }
  figure.alt += ".";
  plot.finish(figure);
  figure.csv = table.take();
  return figure;
}

}  // namespace

std::optional<Figure> intensity_figure(const Effort& effort, const Words& words) {
  if (!effort.category_us) return std::nullopt;
  std::vector<TimeBar> bars;
  for (std::size_t i = 0; i < intensity_count; ++i) {
    const auto intensity = static_cast<Intensity>(i);
    bars.push_back(
        {to_string(intensity),
         intensity_name(intensity, words) + ", " + intensity_percent(intensity, effort.categories_from_reserve, words),
         (*effort.category_us)[i], intensity_style(intensity)});
  }
  bars.push_back({"unmeasured", words("not_measured"), effort.unmeasured_us, "missing"});
  Figure figure = bars_figure(bars, effort.duration_us, words);
  figure.id = "intensity";
  figure.title = words("intensity.title");
  figure.caption = words(effort.categories_from_reserve ? "intensity.caption_reserve" : "intensity.caption_maximum");
  return figure;
}

std::optional<Figure> target_figure(const Effort& effort, const Words& words) {
  if (!effort.target || !effort.below_target_us || !effort.in_target_us || !effort.above_target_us) return std::nullopt;
  std::vector<TimeBar> bars{{"below_target", words("target.below"), *effort.below_target_us, "bar-side"},
                            {"in_target", words("target.in"), *effort.in_target_us, "bar-in"},
                            {"above_target", words("target.above"), *effort.above_target_us, "bar-side"},
                            {"unmeasured", words("not_measured"), effort.unmeasured_us, "missing"}};
  if (effort.above_ceiling_us)
    bars.push_back({"above_ceiling", words("target.above_ceiling"), *effort.above_ceiling_us, "bar-side"});
  Figure figure = bars_figure(bars, effort.duration_us, words);
  const TargetZone& target = *effort.target;
  figure.id = "target";
  figure.title = words(
      "target.title", {{"low", words.count(whole_beats(target.low))}, {"high", words.count(whole_beats(target.high))}});
  figure.caption = words(target.from_reserve ? "target.caption_reserve" : "target.caption_maximum",
                         {{"low", words.number(100 * target.low_fraction, 0)},
                          {"high", words.number(100 * target.high_fraction, 0)},
                          {"maximum", words.count(whole_beats(target.maximum.rate))},
                          {"source", words(std::string("maximum.") + to_string(target.maximum.source))},
                          {"resting", target.resting ? words.count(whole_beats(target.resting->rate)) : ""}});
  return figure;
}

}  // namespace pulsewright
