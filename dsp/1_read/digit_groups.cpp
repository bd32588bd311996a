#include "digit_groups.hpp"

#include <algorithm>
#include <string>

#include "number_text.hpp"

namespace pulsewright::reading {

namespace {

bool are_digits(std::string_view text) {
  return !text.empty() && text.find_first_not_of("0123456789") == std::string_view::npos;
}

}  // namespace

std::optional<GroupedNumber> grouped_number(std::string_view cell) {
  constexpr std::size_t longest = 40;
  if (cell.size() > longest) return std::nullopt;
  std::string digits;
  if (cell.starts_with('-') || cell.starts_with('+')) {
    if (cell.front() == '-') digits += '-';
    cell.remove_prefix(1);
  }
  const std::size_t first = cell.find_first_of(".,");
  if (first == std::string_view::npos) return std::nullopt;
  GroupedNumber number;
  number.sign = cell[first] == '.' ? NumberSign::point : NumberSign::comma;
  std::string_view whole = cell, decimals;
  if (const std::size_t other = cell.find(letter_of(other_than(number.sign))); other != std::string_view::npos) {
    whole = cell.substr(0, other);
    decimals = cell.substr(other + 1);
    if (!are_digits(decimals)) return std::nullopt;
    number.with_decimals = true;
  }
  int groups = 0;
  while (!whole.empty()) {
    const std::size_t end = std::min(whole.find(letter_of(number.sign)), whole.size());
    const std::string_view group = whole.substr(0, end);
    if (!are_digits(group) || (groups > 0 ? group.size() != 3 : group.size() > 3 || group.front() == '0'))
      return std::nullopt;
    digits += group;
    ++groups;
    if (end + 1 == whole.size()) return std::nullopt;  // a sign at the end
    whole.remove_prefix(std::min(end + 1, whole.size()));
  }
  if (groups < 2 || (groups == 2 && !number.with_decimals)) return std::nullopt;
  if (number.with_decimals) {
    digits += '.';
    digits += decimals;
  }
  const auto value = whole_number(digits);
  if (!value) return std::nullopt;
  number.value = *value;
  return number;
}

std::optional<bool> parts_thousands(const GroupClues& column, NumberSign sign, const std::array<bool, 2>& decimal) {
  if (column.parts_decimals(sign)) return false;
  if (column.parts_thousands(sign)) return true;
  if (!column.fits_both(sign)) return false;
  if (decimal[static_cast<std::size_t>(sign)]) return false;
  if (decimal[static_cast<std::size_t>(other_than(sign))]) return true;
  if (column.is_mixed()) return std::nullopt;
  return false;  // all cells of one scale
}

void read_as_thousands(std::vector<float>& samples, const GroupClues& column, NumberSign sign) {
  for (const RowRun& run : column.rows_of_both(sign))
    for (std::int64_t row = run.first; row <= run.last; ++row) {
      float& sample = samples[static_cast<std::size_t>(row)];
      sample = std::round(sample * 1000);
    }
}

}  // namespace pulsewright::reading
