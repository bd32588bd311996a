/// Figures as pictures of points.
#pragma once

#include <string>
#include <string_view>

namespace pulsewright::program {

/// The SVG document as a PNG file, two points for each px of its size, so that it is sharp on paper. Letters are drawn with the fonts of the
/// machine, so that the bytes differ between machines where fonts do. Throws Error{contract} when the document cannot be drawn.
[[nodiscard]] std::string png_of_svg(std::string_view svg);

}  // namespace pulsewright::program
