/// How a text file is laid out, told from its first lines.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "column_name.hpp"
#include "pulsewright/error.hpp"
#include "text_cell.hpp"

namespace pulsewright::reading {

struct TextLayout {
  CellStyle style;
  std::size_t columns = 0;
  std::vector<ColumnName> names;                     ///< one a column, or empty when there is no header
  std::vector<bool> is_text;                         ///< one a column: holds words in every looked-at row
  std::size_t data_byte = 0;                         ///< where the first row starts
  std::int64_t data_line = 1;                        ///< its line
  std::optional<double> stated_rate;                 ///< Hz, from a line such as `# rate 125 Hz`
  std::vector<std::vector<std::string>> first_rows;  ///< cells of the looked-at rows
  Warnings warnings;
};

/// Zero bytes before the first character of a text, as a serial line sends them when it opens; 0 where no text follows a few of them.
[[nodiscard]] std::size_t zeros_before(std::string_view text);

/// Finds the delimiter, the decimal sign, the header and the first row.
///
/// Rows are lines of the same number of cells, each a number, a clock time or missing. Data starts at the first such line below a line of as
/// many words, or followed by another with as many cells (the last line of the file may have fewer). Delimiters are tried in the order
/// semicolon, tab, comma, blanks, none. The header is the last line above the data with as many cells, none of them a number (numbers are
/// allowed as names behind a first cell that names the time); a line of units may follow it, and a comment line may carry it. Lines between header
/// and data that hold a number and a word are rows with a bad cell, so the data starts after the header. Anything else above is junk.
/// A column that holds words in every looked-at row is left out, with a warning.
/// Throws Error{unreadable} when the bytes are no text or no rows are found.
[[nodiscard]] TextLayout find_text_layout(std::string_view text, const std::string& file);

/// The sampling rate in Hz that a line states: a number after `rate`, `frequency` or `fs`, followed by Hz or kHz or preceded by `sampl...`
/// or `fs`. Nothing otherwise (`heart rate 72 bpm`).
[[nodiscard]] std::optional<double> stated_rate_in(std::string_view line);

}  // namespace pulsewright::reading
