#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "8_report/figure/plot.hpp"
#include "8_report/text/csv_table.hpp"
#include "session_figures.hpp"

namespace pulsewright {
namespace {

/// Small enough for a telephone with its axis labels beside it.
constexpr int side_px = 264;
constexpr int most_steps = 5;
/// Points are gathered on a grid of so many cells a side, so that a long recording stays small; a cell is less than 2 px wide.
constexpr double cells_a_side = 150;
/// From so many pairs a cell is drawn heavier.
constexpr int some = 3, many = 10;

}  // namespace

std::optional<Figure> neighbours_figure(const Intervals& intervals, const Words& words) {
  const std::vector<NormalInterval> series = normal_series(intervals);
  std::vector<std::pair<double, double>> pairs;
  for (std::size_t i = 1; i < series.size(); ++i)
    if (series[i].touches_last) pairs.emplace_back(series[i - 1].ms, series[i].ms);
  if (pairs.empty()) return std::nullopt;

  AxisRange range{pairs[0].first, pairs[0].first};
  for (const auto& [before, after] : pairs) {
    range.low = std::min({range.low, before, after});
    range.high = std::max({range.high, before, after});
  }
  range = rounded_out(range, most_steps);
  const double cell = range.length() / cells_a_side;
  std::map<std::pair<long, long>, int> counts;
  for (const auto& [before, after] : pairs)
    ++counts[{std::lround((before - range.low) / cell), std::lround((after - range.low) / cell)}];

  Figure figure;
  figure.id = "neighbours";
  figure.title = words("neighbours.title");
  figure.caption = words("neighbours.caption");
  figure.y_title = words("neighbours.y");
  figure.width_px = side_px;
  Plot plot(range, range, side_px, 0, side_px);
  plot.x_axis(value_ticks(range, most_steps, words.numbers()), words("neighbours.x"));
  plot.y_axis(value_ticks(range, most_steps, words.numbers()));
  plot.line({{range.low, range.low}, {range.high, range.high}}, "diagonal");
  CsvTable table({"interval_ms", "next_ms", "pairs_count"}, words.numbers());
  std::vector<Plot::Stroke> light, middling, heavy;
  for (const auto& [at, count] : counts) {
    const PlotPoint point{range.low + static_cast<double>(at.first) * cell,
                          range.low + static_cast<double>(at.second) * cell};
    (count >= many ? heavy : count >= some ? middling : light).push_back({point.x, point.y, point.y});
    table.number(point.x, 1).number(point.y, 1).count(count).end_row();
  }
  plot.strokes(light, "point");
  plot.strokes(middling, "point some");
  plot.strokes(heavy, "point many");
  plot.finish(figure);
  const auto above = std::count_if(pairs.begin(), pairs.end(), [](const auto& p) { return p.second > p.first; });
  figure.alt = words("neighbours.alt", {{"count", words.count(static_cast<std::int64_t>(pairs.size()))},
                                        {"low", words.number(range.low, 0)},
                                        {"high", words.number(range.high, 0)},
                                        {"above", words.count(above)}});
  figure.legend = {{LegendEntry::Swatch::line, "diagonal", words("neighbours.diagonal")}};
  figure.csv = table.take();
  return figure;
}

}  // namespace pulsewright
