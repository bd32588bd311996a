/// One figure, apart from where it stands: on a page, or alone in an SVG file.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "8_report/text/markup.hpp"
#include "8_report/words/words.hpp"

namespace pulsewright {

/// Space under the plot for the labels of the horizontal axis and its title, in px, and under a plot that has none.
inline constexpr int axis_room_px = 38;
inline constexpr int no_axis_room_px = 4;
/// Space left of the plot for the labels of the vertical axis, in px.
inline constexpr int left_room_px = 56;
/// Width of the plot of a figure that stands alone, in px.
inline constexpr int alone_plot_px = 1000;
/// Lines and filled shapes are drawn on a grid with so many points to a px downwards and, where the plot has the width that it is drawn for, across. A
/// page stretches it; alone it is not stretched.
inline constexpr int grid_per_px = 10;
/// Space right of the plot for names of bands, in px.
inline constexpr int right_room_px = 96;

/// What a mark in a figure stands for. The swatch is drawn by its class, as the mark is.
struct LegendEntry {
  enum class Swatch { area, line, symbol };
  Swatch swatch = Swatch::area;
  std::string style;  ///< class of the mark; of a symbol its id
  std::string text;
};

/// The marks are drawn in three columns: labels of the vertical axis, the plot, names of bands. Horizontal positions in the plot are per cent
/// of its width, vertical ones px, so that it fits any width without stretching its letters.
struct Figure {
  std::string id;
  std::string title;
  std::string caption;  ///< how to read it
  std::string alt;      ///< what it shows, for who cannot see it
  std::string y_title;
  int height_px = 0;             ///< of the plot, with the room for its axis
  std::optional<int> width_px;   ///< of a plot that must not stretch
  bool scrolls = false;          ///< keeps a least width and scrolls where there is little room
  double x_low = 0, x_high = 1;  ///< range of the horizontal axis, for the read-out
  /// What the read-out says of a row of the data, `{column}` standing for its cells, and what it says where one of those cells is empty. A column whose
  /// name ends in `_s` is a time and read as on a stop watch; one that is `bpm` or ends in `_bpm` is read in whole beats. No read-out when empty.
  std::string readout, readout_missing;
  Markup left, plot, right;
  std::vector<LegendEntry> legend;
  std::string csv;  ///< the data it draws; empty when it offers none
};

/// The figure as part of a page, under a `heading` (`h3`, ...); null when the page has said its title already.
[[nodiscard]] Markup figure_on_page(const Figure& figure, const Words& words, const char* heading);

/// A link that stores `csv` as ID.csv.
[[nodiscard]] Markup data_link(const std::string& id, const std::string& csv, const std::string& text);

/// What the marks stand for, as a list.
[[nodiscard]] Markup legend_list(const std::vector<LegendEntry>& legend);

/// The plot alone, for a page that arranges several itself.
[[nodiscard]] Markup figure_frame(const Figure& figure);

/// The figure alone, as an SVG document in the light theme, 1152 px wide unless its plot has a fixed width.
[[nodiscard]] std::string figure_svg(const Figure& figure);

/// Patterns and symbols that figures refer to; once a page.
[[nodiscard]] Markup figure_definitions();

}  // namespace pulsewright
