/// Where a number in a line ends, and whether its cell ends there: what the readers of samples and of times share.
#pragma once

#include <string_view>

namespace pulsewright::reading {

[[nodiscard]] inline std::string_view without_blanks_before(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  return text;
}

/// Takes what is behind a number off `rest`, up to the next cell; false, and nothing is taken, where the cell does not
/// end there. `last` becomes true at the end of the line.
[[nodiscard]] inline bool end_cell(std::string_view behind, std::string_view& rest, bool& last, char delimiter) {
  const char* q = behind.data();
  const char* const end = q + behind.size();
  while (q < end && *q == ' ') ++q;
  const bool blank = delimiter == ' ' && q > behind.data();
  if (q != end && *q != delimiter && !blank) return false;
  last = q == end;
  if (!last && !blank) ++q;
  rest.remove_prefix(static_cast<std::size_t>(q - rest.data()));
  return true;
}

/// Digits behind a point or comma. A number with an exponent counts as one with a decimal: its sign parts no thousands.
[[nodiscard]] inline int decimals_of(std::string_view cell) {
  if (cell.find_first_of("eE") != std::string_view::npos) return 1;
  const std::size_t sign = cell.find_first_of(".,");
  return sign == std::string_view::npos ? 0 : static_cast<int>(cell.size() - sign - 1);
}

}  // namespace pulsewright::reading
