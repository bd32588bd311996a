/// Texts that lie in files of their own beside the sources (style sheets, the script, the words of a language) and are built into the library.
#pragma once

#include <string_view>

namespace pulsewright {

struct EmbeddedText {
  std::string_view name;  ///< of the file, without its folder
  std::string_view text;
};

/// The text of a file of `page/` or `words/`. Throws Error{contract} for a name that is not there.
[[nodiscard]] const EmbeddedText& embedded_text(std::string_view name);

}  // namespace pulsewright
