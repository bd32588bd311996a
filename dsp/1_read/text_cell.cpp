#include "text_cell.hpp"

#include <algorithm>
#include <array>

#include "clock_text.hpp"
#include "digit_groups.hpp"
#include "number_text.hpp"

namespace pulsewright::reading {

namespace {

bool is_blank(char c) { return c == ' ' || c == '\t'; }

bool ends_cell(char c, char delimiter) { return delimiter == ' ' ? is_blank(c) : c == delimiter; }

}  // namespace

Cell take_cell(std::string_view& rest, char delimiter, bool& last) {
  std::size_t at = 0;
  while (at < rest.size() && is_blank(rest[at]) && rest[at] != delimiter) ++at;
  if (delimiter == ' ')
    while (at < rest.size() && is_blank(rest[at])) ++at;
  Cell cell;
  std::size_t end = at;
  if (at < rest.size() && rest[at] == '"') {
    const std::size_t close = rest.find('"', at + 1);
    if (close != std::string_view::npos) {
      cell.quoted = true;
      cell.text = trimmed(rest.substr(at + 1, close - at - 1));
      end = close + 1;
    }
  }
  const std::size_t from = end;
  while (end < rest.size() && !ends_cell(rest[end], delimiter)) ++end;
  if (!cell.quoted)
    cell.text = trimmed(rest.substr(at, end - at));
  else if (!trimmed(rest.substr(from, end - from)).empty())
    cell.text = trimmed(rest.substr(at, end - at));  // text behind the closing quote: not a quoted cell after all
  if (delimiter == ' ')
    while (end < rest.size() && is_blank(rest[end])) ++end;
  else if (end < rest.size()) {
    rest.remove_prefix(end + 1);
    last = false;
    return cell;
  }
  rest.remove_prefix(end);
  last = rest.empty();
  return cell;
}

std::vector<Cell> cells_of(std::string_view line, char delimiter) {
  std::vector<Cell> cells;
  if (delimiter == ' ' && trimmed(line).empty()) return cells;
  bool last = false;
  while (!last) cells.push_back(take_cell(line, delimiter, last));
  return cells;
}

std::optional<double> number_in(std::string_view cell, bool decimal_comma) {
  if (!decimal_comma) return whole_number(cell);
  const std::size_t comma = cell.find(',');
  if (comma == std::string_view::npos) return whole_number(cell);
  // one comma with a digit on both sides, no point, and short enough to be a number
  std::array<char, 64> with_point;
  const bool fits = cell.size() <= with_point.size() && cell.find('.') == std::string_view::npos && comma > 0 &&
                    comma + 1 < cell.size() && cell[comma - 1] >= '0' && cell[comma - 1] <= '9' &&
                    cell[comma + 1] >= '0' && cell[comma + 1] <= '9';
  if (!fits) return std::nullopt;
  std::copy(cell.begin(), cell.end(), with_point.begin());
  with_point[comma] = '.';
  return whole_number({with_point.data(), cell.size()});
}

bool is_missing(std::string_view cell) {
  if (cell.empty()) return true;
  if (cell.size() > 4) return false;
  const std::string word = lower_case(cell);
  return word == "nan" || word == "-nan" || word == "na" || word == "n/a" || word == "null" || word == "none";
}

CellKind kind_of(std::string_view cell, bool decimal_comma) {
  if (is_missing(cell)) return CellKind::missing;
  if (number_in(cell, decimal_comma) || grouped_number(cell)) return CellKind::number;
  if (parse_clock(cell)) return CellKind::clock;
  return CellKind::word;
}

bool is_comment(std::string_view line) {
  while (!line.empty() && is_blank(line.front())) line.remove_prefix(1);
  return line.starts_with('#') || line.starts_with('%') || line.starts_with("//");
}

}  // namespace pulsewright::reading
