/// Draws into a figure: axes, areas, lines and marks in the units of the data.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "axis_ticks.hpp"
#include "figure.hpp"

namespace pulsewright {

struct PlotPoint {
  double x = 0;
  double y = 0;
};

/// The plot of one figure. From back to front: bands, lines of the axes, boxes and stretches, lines and filled shapes, marks and texts; of one sort what is
/// drawn later lies on top.
class Plot {
 public:
  /// The vertical range fills `height_px`; below it there is room for lanes (`lane_px`) that boxes and symbols are put into. `width_px` is given for a
  /// figure that must not stretch.
  Plot(AxisRange x, AxisRange y, int height_px, int lane_px = 0, int width_px = alone_plot_px);

  /// Horizontal position in per cent of the width, and vertical position in px.
  [[nodiscard]] std::string x_at(double x) const;
  [[nodiscard]] std::string y_at(double y) const;

  /// Marks and labels under the plot, with lines up through it, and a title at the right end.
  void x_axis(const std::vector<AxisTick>& ticks, std::string_view title);
  /// Labels left of the plot, with lines across it.
  void y_axis(const std::vector<AxisTick>& ticks);

  /// An area from edge to edge between two heights, with a name right of the plot (none when empty).
  void band(double low, double high, const char* style, std::string_view text);
  /// A name right of the plot at a height.
  void name(double y, std::string_view text);
  /// A name left of a lane, beside what is written in it; vertical in px.
  void lane_name(double y_px, std::string_view text);
  /// An area from top to bottom between two positions; at least `least_width` of the range wide.
  void stretch(double from, double to, const char* style);
  /// Any rectangle; vertical ends in px.
  void box(double from, double to, double top_px, double bottom_px, const char* style);
  /// A line from edge to edge.
  void level(double y, const char* style);

  /// A broken line through the points; a single point becomes a dot.
  void line(const std::vector<PlotPoint>& points, const char* style);
  /// A closed shape.
  void area(const std::vector<PlotPoint>& points, const char* style);
  /// Upright strokes from `low` to `high` at each x: an envelope.
  struct Stroke {
    double x = 0, low = 0, high = 0;
  };
  void strokes(const std::vector<Stroke>& strokes, const char* style);

  /// A symbol of `figure_definitions` with its centre at a position; vertical in px.
  void symbol(const char* id, double x, double y_px, const char* style);
  /// A text; vertical in px. `anchor` is start, middle or end.
  void label(std::string_view text, double x, double y_px, const char* anchor, const char* style);
  /// A text in the middle of a box, or at the edge of the plot that the box reaches beyond.
  void label_of_box(std::string_view text, double from, double to, double y_px, const char* style);

  /// Puts what was drawn into the figure, with the ranges and the height.
  void finish(Figure& figure) const;

 private:
  struct GridPoint {
    long across, down;
  };
  [[nodiscard]] GridPoint on_grid(const PlotPoint& point) const;
  [[nodiscard]] std::string grid_line(const std::vector<PlotPoint>& points) const;

  AxisRange x_, y_;
  int height_px_, lane_px_, grid_across_;
  Markup left_, right_;
  bool has_x_axis_ = false;
  Markup bands_, lines_, areas_, paths_, marks_;
};

}  // namespace pulsewright
