/// What every page has around its contents.
#pragma once

#include <string>

#include "8_report/text/markup.hpp"
#include "8_report/words/words.hpp"

namespace pulsewright {

/// A whole HTML document: styles and script inside, nothing fetched, and a content policy that lets no other script run than ours.
/// `main` is what stands between header and cautions, `attached` what follows them, as slips to cut off.
[[nodiscard]] std::string page_frame(const std::string& title, const Markup& header, const Markup& main,
                                     const Words& words, const Markup& attached = {});

/// A section with a heading that can be linked to.
[[nodiscard]] Markup page_section(const char* id, const std::string& heading, const Markup& contents);

}  // namespace pulsewright
