#include "plot.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

namespace pulsewright {
namespace {

/// No stretch of time is drawn narrower than this share of the width, so that none is lost.
constexpr double least_width = 0.0012;

std::string px(double value) { return format_number(value, 1); }
std::string percent(double share) { return format_number(100 * share, 2) + "%"; }

}  // namespace

Plot::Plot(AxisRange x, AxisRange y, int height_px, int lane_px, int width_px)
    : x_(x), y_(y), height_px_(height_px), lane_px_(lane_px), grid_across_(width_px * grid_per_px) {}

std::string Plot::x_at(double x) const { return percent(std::clamp((x - x_.low) / x_.length(), 0.0, 1.0)); }

std::string Plot::y_at(double y) const {
  return px(height_px_ * (1 - std::clamp((y - y_.low) / y_.length(), 0.0, 1.0)));
}

Plot::GridPoint Plot::on_grid(const PlotPoint& point) const {
  const double across = std::clamp((point.x - x_.low) / x_.length(), 0.0, 1.0) * grid_across_;
  const double down = (1 - std::clamp((point.y - y_.low) / y_.length(), 0.0, 1.0)) * height_px_ * grid_per_px;
  return {std::lround(across), std::lround(down)};
}

std::string Plot::grid_line(const std::vector<PlotPoint>& points) const {
  // A start and steps from it: shorter than places, and exact, because the grid is one of whole numbers.
  GridPoint at = on_grid(points.front());
  std::string d = fmt::format("M{} {}", at.across, at.down);
  for (std::size_t i = 1; i < points.size(); ++i) {
    const GridPoint next = on_grid(points[i]);
    const long across = next.across - at.across, down = next.down - at.down;
    // A minus sign parts two numbers as well as a blank does.
    fmt::format_to(std::back_inserter(d), "{}{}{}{}",
                   i == 1       ? "l"
                   : across < 0 ? ""
                                : " ",
                   across, down < 0 ? "" : " ", down);
    at = next;
  }
  return d;
}

void Plot::x_axis(const std::vector<AxisTick>& ticks, std::string_view title) {
  has_x_axis_ = true;
  const std::string bottom = px(height_px_ + lane_px_);
  for (const AxisTick& tick : ticks) {
    const std::string x = x_at(tick.at);
    lines_.empty("line", {{"class", "grid"}, {"x1", x}, {"x2", x}, {"y1", "0"}, {"y2", bottom}});
    // The outermost labels stay inside the plot.
    const double share = (tick.at - x_.low) / x_.length();
    const char* anchor = share < 0.01 ? "start" : share > 0.99 ? "end" : "middle";
    marks_.element("text",
                   {{"class", tick.wide_only ? "tick wide" : "tick"},
                    {"x", x},
                    {"y", px(height_px_ + lane_px_ + 15)},
                    {"text-anchor", anchor}},
                   tick.label);
  }
  lines_.empty("line", {{"class", "base"}, {"x1", "0"}, {"x2", "100%"}, {"y1", bottom}, {"y2", bottom}});
  marks_.element(
      "text", {{"class", "tick"}, {"x", "100%"}, {"y", px(height_px_ + lane_px_ + 32)}, {"text-anchor", "end"}}, title);
}

void Plot::y_axis(const std::vector<AxisTick>& ticks) {
  for (const AxisTick& tick : ticks) {
    const std::string y = y_at(tick.at);
    lines_.empty("line", {{"class", "grid"}, {"x1", "0"}, {"x2", "100%"}, {"y1", y}, {"y2", y}});
    left_.element("text",
                  {{"class", "tick"}, {"x", "100%"}, {"dx", "-8"}, {"y", y}, {"dy", "4"}, {"text-anchor", "end"}},
                  tick.label);
  }
}

void Plot::band(double low, double high, const char* style, std::string_view text) {
  const double from = std::clamp(low, y_.low, y_.high), to = std::clamp(high, y_.low, y_.high);
  if (!(from < to)) return;
  const double height = height_px_ * (to - from) / y_.length();
  bands_.empty("rect", {{"class", style}, {"x", "0"}, {"y", y_at(to)}, {"width", "100%"}, {"height", px(height)}});
  if (!text.empty()) name((from + to) / 2, text);
}

void Plot::name(double y, std::string_view text) {
  right_.element("text", {{"class", "tick"}, {"x", "0"}, {"dx", "6"}, {"y", y_at(y)}, {"dy", "4"}}, text);
}

void Plot::lane_name(double y_px, std::string_view text) {
  left_.element("text", {{"class", "tick"}, {"x", "100%"}, {"dx", "-8"}, {"y", px(y_px)}, {"text-anchor", "end"}},
                text);
}

void Plot::stretch(double from, double to, const char* style) {
  const double least = least_width * x_.length();
  if (to - from < least) {
    const double middle = (from + to) / 2;
    from = middle - least / 2;
    to = middle + least / 2;
  }
  box(from, to, 0, height_px_, style);
}

void Plot::box(double from, double to, double top_px, double bottom_px, const char* style) {
  const double left = std::clamp((from - x_.low) / x_.length(), 0.0, 1.0);
  const double right = std::clamp((to - x_.low) / x_.length(), 0.0, 1.0);
  areas_.empty("rect", {{"class", style},
                        {"x", percent(left)},
                        {"y", px(top_px)},
                        {"width", percent(right - left)},
                        {"height", px(bottom_px - top_px)}});
}

void Plot::level(double y, const char* style) {
  marks_.empty("line", {{"class", style}, {"x1", "0"}, {"x2", "100%"}, {"y1", y_at(y)}, {"y2", y_at(y)}});
}

void Plot::line(const std::vector<PlotPoint>& points, const char* style) {
  if (points.empty()) return;
  std::string d = grid_line(points);
  if (points.size() == 1) d += "h1";
  paths_.empty("path", {{"class", style}, {"d", d}});
}

void Plot::area(const std::vector<PlotPoint>& points, const char* style) {
  if (points.size() < 3) return;
  std::string d = grid_line(points);
  d += "Z";
  paths_.empty("path", {{"class", style}, {"d", d}});
}

void Plot::strokes(const std::vector<Stroke>& strokes, const char* style) {
  if (strokes.empty()) return;
  std::string d;
  for (const Stroke& stroke : strokes) {
    const GridPoint from = on_grid({stroke.x, stroke.low}), to = on_grid({stroke.x, stroke.high});
    fmt::format_to(std::back_inserter(d), "M{} {}{}", from.across, from.down,
                   from.down == to.down ? std::string("h1") : fmt::format("V{}", to.down));
  }
  paths_.empty("path", {{"class", style}, {"d", d}});
}

void Plot::symbol(const char* id, double x, double y_px, const char* style) {
  marks_.empty("use", {{"href", fmt::format("#{}", id)}, {"class", style}, {"x", x_at(x)}, {"y", px(y_px)}});
}

void Plot::label(std::string_view text, double x, double y_px, const char* anchor, const char* style) {
  marks_.element("text", {{"class", style}, {"x", x_at(x)}, {"y", px(y_px)}, {"text-anchor", anchor}}, text);
}

void Plot::label_of_box(std::string_view text, double from, double to, double y_px, const char* style) {
  const double inset = 0.004 * x_.length();  // off the edge that cuts the box
  if (to > x_.high)
    label(text, x_.high - inset, y_px, "end", style);
  else if (from < x_.low)
    label(text, x_.low + inset, y_px, "start", style);
  else
    label(text, (from + to) / 2, y_px, "middle", style);
}

void Plot::finish(Figure& figure) const {
  figure.height_px = height_px_ + lane_px_ + (has_x_axis_ ? axis_room_px : no_axis_room_px);
  figure.x_low = x_.low;
  figure.x_high = x_.high;
  figure.left = left_;
  figure.right = right_;
  figure.plot = bands_;
  figure.plot.add(lines_).add(areas_);
  if (!paths_.blank()) {
    figure.plot.open("svg", {{"class", "paths"},
                             {"width", "100%"},
                             {"height", std::to_string(height_px_)},
                             {"viewBox", fmt::format("0 0 {} {}", grid_across_, height_px_ * grid_per_px)},
                             {"preserveAspectRatio", "none"}});
    figure.plot.add(paths_).close();
  }
  figure.plot.add(marks_);
}

}  // namespace pulsewright
