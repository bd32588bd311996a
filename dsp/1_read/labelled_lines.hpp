/// Lines as they are saved from a serial line: a clock time with an arrow, values with labels.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "column_name.hpp"

namespace pulsewright::reading {

/// The same rows as plain delimited text, line for line, and what its columns are called.
struct PlainRows {
  std::string text;
  std::vector<ColumnName> names;  ///< empty names where values had no label
};

/// Rewrites lines such as `10:00:00.012 -> 512`, `IR:512,Red:519` or `10:00:00.012 -> IR = 512  Red = 519` as rows of cells parted by commas, the clock time first.
///
/// It is done when at least half of the first lines have an arrow behind a clock time, or a label before every value. The columns are those of the most
/// frequent list of labels; values are put where their label belongs. Lines of another form stay as they are, for the reader of rows to judge. Nothing when the text has no such lines.
[[nodiscard]] std::optional<PlainRows> plain_rows(std::string_view text);

}  // namespace pulsewright::reading
