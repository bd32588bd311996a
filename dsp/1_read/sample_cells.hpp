/// The cells of a text table that hold samples.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "bad_cell.hpp"
#include "digit_groups.hpp"
#include "plain_row.hpp"
#include "text_layout.hpp"
#include "text_table.hpp"

namespace pulsewright::reading {

class SampleCells {
 public:
  SampleCells(const TextLayout& layout, const std::string& file);

  /// Takes the next cell off `rest`: a number, or NaN where nothing was recorded. False, with the reason, for anything
  /// else; a number that single precision does not hold is none. `row` is counted from 0.
  bool take(std::string_view& rest, bool& last, float& sample, BadCell& bad, std::size_t column, std::int64_t row);

  /// The sample of a number of a plain row: below 10^15, and so within single precision.
  float plain(const PlainNumber& number, std::size_t column, std::int64_t row) {
    clues_[column].take(number.value, number.decimals, number.sign, row);
    return static_cast<float>(number.value);
  }

  /// The row that was begun is none.
  void take_back(std::int64_t row) {
    for (GroupClues& column : clues_) column.take_back(row);
  }

  /// Where a sign parts thousands (`digit_groups.hpp`), the samples of its column are read so, with a warning. `times`
  /// are the clues of the time column. Throws Error{unreadable}, naming both readings, where nobody can tell.
  void settle_thousands(TextTable& table, const GroupClues& times) const;

 private:
  [[noreturn]] void refuse_open_sign(const TextTable& table, std::size_t column, NumberSign sign) const;

  const TextLayout& layout_;
  const std::string& file_;
  std::vector<GroupClues> clues_;  ///< one a column
};

}  // namespace pulsewright::reading
