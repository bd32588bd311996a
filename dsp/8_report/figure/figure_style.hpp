/// The style sheet of figures outside a page.
#pragma once

#include <string>

namespace pulsewright {

/// `page/figure.css` with the colours of the light theme of `page/theme.css` put in for its variables, because what draws an SVG file may not
/// know any; for the same reason the widths of lines are given in points of the grid (`grid_per_px`) instead of left unscaled.
[[nodiscard]] std::string figure_style_alone();

}  // namespace pulsewright
