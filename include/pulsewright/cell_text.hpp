/// What stands in a cell of a table for a text that a spreadsheet would take for a formula.
#pragma once

#include <string>
#include <string_view>

namespace pulsewright {

/// The text with an apostrophe before it where a spreadsheet would take it for a formula: it begins
/// with `=`, `+`, `@`, a tab, a carriage return, or `-` unless it is a code (letters, digits, `-`,
/// `_`). A text that begins with an apostrophe and would be guarded behind it gets another, so that
/// `unguarded_cell` gives back every text.
[[nodiscard]] std::string guarded_cell(std::string_view text);

/// The text of a cell that `guarded_cell` made.
[[nodiscard]] std::string_view unguarded_cell(std::string_view cell);

}  // namespace pulsewright
