/// Rows as loggers write nearly all of theirs: plain decimals, each with its delimiter right behind it.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>
#include <vector>

#include "digit_groups.hpp"

namespace pulsewright::reading {

/// A number and how it was written.
struct PlainNumber {
  double value = 0;
  int decimals = 0;
  NumberSign sign = NumberSign::point;
};

/// Reads such rows without looking at any character twice.
class PlainRow {
 public:
  PlainRow(std::size_t columns, char delimiter) : numbers_(columns), delimiter_(delimiter) {}

  /// Takes a row with its line end off `text`. False, and nothing is taken, where it is written in any other way: the
  /// value of each number is then for slower readers to find, and so is whether it is a row at all.
  [[nodiscard]] bool take(std::string_view& text) {
    const char* at = text.data();
    const char* const end = at + text.size();
    const std::size_t columns = numbers_.size();
    for (std::size_t k = 0; k < columns; ++k) {
      if (!take_number(at, end, numbers_[k])) return false;
      if (at == end) return false;
      if (k + 1 < columns) {
        if (*at++ != delimiter_) return false;
        continue;
      }
      if (*at == '\r') ++at;
      if (at == end || *at++ != '\n') return false;
    }
    text.remove_prefix(static_cast<std::size_t>(at - text.data()));
    return true;
  }

  /// Those of the row that was taken.
  [[nodiscard]] const std::vector<PlainNumber>& numbers() const { return numbers_; }

 private:
  /// Whole numbers below 10^15 and these powers are doubles without rounding, so that their quotient is rounded once.
  static constexpr int most_digits = 15;
  static constexpr std::array<double, most_digits + 1> powers_of_ten{1e0, 1e1, 1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                                                     1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};

  bool take_number(const char*& at, const char* end, PlainNumber& number) const {
    const bool negative = at < end && *at == '-';
    if (negative) ++at;
    std::int64_t digits = 0;
    const char* const first = at;
    while (at < end && static_cast<unsigned char>(*at - '0') < 10 && at - first <= most_digits)
      digits = 10 * digits + (*at++ - '0');
    auto count = at - first;
    if (count == 0 || count > most_digits) return false;
    number.decimals = 0;
    const bool comma = at < end && *at == ',' && delimiter_ != ',';
    if (comma || (at < end && *at == '.')) {
      const char* const behind = ++at;
      while (at < end && static_cast<unsigned char>(*at - '0') < 10 && at - behind < most_digits)
        digits = 10 * digits + (*at++ - '0');
      number.decimals = static_cast<int>(at - behind);
      count += at - behind;
      if (number.decimals == 0 || count > most_digits) return false;
      number.sign = comma ? NumberSign::comma : NumberSign::point;
    }
    const double size = static_cast<double>(digits) / powers_of_ten[static_cast<std::size_t>(number.decimals)];
    number.value = negative ? -size : size;
    return true;
  }

  std::vector<PlainNumber> numbers_;
  char delimiter_;
};

}  // namespace pulsewright::reading
