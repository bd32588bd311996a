/// The style sheet of figures outside a page.
#pragma once

#include <string>

namespace pulsewright {

/// `page/figure.css` with the colours of the light theme of `page/theme.css` put in for its variables, because what draws an SVG file may not
/// know any.
[[nodiscard]] std::string figure_style_alone();

}  // namespace pulsewright
