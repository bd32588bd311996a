#include "range_rows.hpp"

#include <algorithm>

#include "plot.hpp"

namespace pulsewright {
namespace {

constexpr int row_px = 36;
constexpr int text_px = 14;  ///< from the top of a row to the foot of its words
constexpr int rail_top_px = 24, rail_bottom_px = 28;
constexpr int bar_top_px = 21, bar_bottom_px = 31;
constexpr int mark_px = 26;
constexpr int most_steps = 8;

}  // namespace

Figure range_rows_figure(const std::vector<RangeRow>& rows, const AxisRange& scale, const std::string& scale_title,
                         const std::optional<RangeBand>& band, const Words& words) {
  Figure figure;
  Plot plot(scale, {0, 1}, static_cast<int>(rows.size()) * row_px);
  plot.x_axis(value_ticks(scale, most_steps, words.numbers()), scale_title);
  const auto inside = [&scale](double value) { return std::min(std::max(value, scale.low), scale.high); };
  int top = 0;
  for (const RangeRow& row : rows) {
    plot.label(row.name, scale.low, top + text_px, "start", "row");
    plot.label(row.said, scale.high, top + text_px, "end", "row");
    plot.box(scale.low, scale.high, top + rail_top_px, top + rail_bottom_px, "rail");
    if (band) plot.box(inside(band->low), inside(band->high), top + rail_top_px, top + rail_bottom_px, "bar-side");
    if (row.low && row.high)
      plot.box(inside(*row.low), inside(*row.high), top + rail_top_px, top + rail_bottom_px, "reach");
    if (row.inner_low && row.inner_high)
      plot.box(inside(*row.inner_low), inside(*row.inner_high), top + bar_top_px, top + bar_bottom_px, "bar bar-side");
    if (row.value) plot.symbol("mark-value", inside(*row.value), top + mark_px, "symbol");
    figure.alt += (figure.alt.empty() ? "" : "; ") + row.name + ": " + row.said;
    top += row_px;
  }
  figure.alt += ".";
  if (band) figure.legend.push_back({LegendEntry::Swatch::area, "bar-side", band->name});
  plot.finish(figure);
  return figure;
}

}  // namespace pulsewright
