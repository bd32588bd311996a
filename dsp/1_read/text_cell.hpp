/// Cells of delimited text: how a line is cut and what a cell holds.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

namespace pulsewright::reading {

/// How cells are parted and decimals written.
struct CellStyle {
  char delimiter = ',';  ///< `,` `;` tab, blank (any run of blanks and tabs), or 0: the line is one cell
  bool decimal_comma = false;
};

/// What a cell holds.
enum class CellKind { number, missing, clock, word };

/// One cell taken off a line.
struct Cell {
  std::string_view text;  ///< without quotes and blanks around it
  bool quoted = false;
};

/// Cuts a line into cells. A quote opens a quoted cell only at the start of a cell; within it delimiters are text. An empty line has one
/// empty cell, or none when the delimiter is blank.
[[nodiscard]] std::vector<Cell> cells_of(std::string_view line, char delimiter);

/// Takes the next cell off `rest`, with the delimiter behind it; `last` becomes true when no delimiter followed.
[[nodiscard]] Cell take_cell(std::string_view& rest, char delimiter, bool& last);

/// A finite number, with a decimal comma too if the style says so; nothing otherwise.
[[nodiscard]] std::optional<double> number_in(std::string_view cell, bool decimal_comma);

/// Whether a cell stands for a sample that was not recorded: empty, or `nan`, `na`, `n/a`, `null` or `none` in any case.
[[nodiscard]] bool is_missing(std::string_view cell);

[[nodiscard]] CellKind kind_of(std::string_view cell, bool decimal_comma);

/// Whether a line, blanks before it aside, is a comment: `#`, `%` or `//`.
[[nodiscard]] bool is_comment(std::string_view line);

}  // namespace pulsewright::reading
