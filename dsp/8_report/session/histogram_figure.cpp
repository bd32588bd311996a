#include <algorithm>
#include <cmath>
#include <map>

#include "8_report/figure/plot.hpp"
#include "8_report/text/csv_table.hpp"
#include "session_figures.hpp"

namespace pulsewright {
namespace {

constexpr int height_px = 200;
constexpr int most_bins = 60;
constexpr int most_steps = 4;
/// Bins are a whole multiple of this wide, in ms.
constexpr double finest_ms = 10;

struct Bin {
  int measured = 0;
  int replaced = 0;
};

}  // namespace

std::optional<Figure> histogram_figure(const Intervals& intervals, const Words& words) {
  const std::vector<NormalInterval> series = normal_series(intervals);
  if (series.empty()) return std::nullopt;
  const auto [shortest, longest] = std::minmax_element(
      series.begin(), series.end(), [](const NormalInterval& a, const NormalInterval& b) { return a.ms < b.ms; });
  const double width = finest_ms * std::max(1.0, std::ceil((longest->ms - shortest->ms) / finest_ms / most_bins));
  std::map<long, Bin> bins;  // by multiples of the width
  int replaced = 0, most = 0;
  for (const NormalInterval& interval : series) {
    Bin& bin = bins[std::lround(std::floor(interval.ms / width))];
    ++(interval.replaced ? bin.replaced : bin.measured);
    replaced += interval.replaced ? 1 : 0;
    most = std::max(most, bin.measured + bin.replaced);
  }

  const AxisRange across{static_cast<double>(bins.begin()->first) * width - width,
                         static_cast<double>(bins.rbegin()->first) * width + 2 * width};
  const AxisRange range = rounded_out({0, static_cast<double>(most)}, most_steps);
  Figure figure;
  figure.id = "histogram";
  figure.title = words("histogram.title");
  figure.y_title = words("histogram.count");
  Plot plot(across, range, height_px);
  std::vector<AxisTick> ticks = value_ticks(across, 8, words.numbers());
  for (std::size_t i = 1; i < ticks.size(); i += 2) ticks[i].wide_only = true;
  plot.x_axis(ticks, words("axis.interval"));
  plot.y_axis(value_ticks(range, most_steps, words.numbers()));
  CsvTable table({"from_ms", "to_ms", "measured_count", "replaced_count"}, words.numbers());
  const auto down = [&range](int count) { return height_px * (1 - count / range.length()); };
  for (const auto& [k, bin] : bins) {
    const double from = static_cast<double>(k) * width, to = from + width;
    if (bin.measured > 0) plot.box(from, to, down(bin.measured), height_px, "bin");
    if (bin.replaced > 0) plot.box(from, to, down(bin.measured + bin.replaced), down(bin.measured), "bin-replaced");
    table.number(from, 0).number(to, 0).count(bin.measured).count(bin.replaced).end_row();
  }
  plot.finish(figure);
  const auto peak = std::max_element(bins.begin(), bins.end(), [](const auto& a, const auto& b) {
    return a.second.measured + a.second.replaced < b.second.measured + b.second.replaced;
  });
  figure.caption = words("histogram.caption", {{"width", words.number(width, 0)}});
  figure.alt = words("histogram.alt", {{"count", words.count(static_cast<std::int64_t>(series.size()))},
                                       {"replaced", words.count(replaced)},
                                       {"low", words.number(shortest->ms, 0)},
                                       {"high", words.number(longest->ms, 0)},
                                       {"from", words.number(static_cast<double>(peak->first) * width, 0)},
                                       {"to", words.number(static_cast<double>(peak->first + 1) * width, 0)}});
  figure.legend = {{LegendEntry::Swatch::area, "bin", words("interval.measured")}};
  if (replaced > 0) figure.legend.push_back({LegendEntry::Swatch::area, "bin-replaced", words("interval.replaced")});
  figure.csv = table.take();
  return figure;
}

}  // namespace pulsewright
