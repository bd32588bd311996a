/// The times of the rows of a text table, as they are read one after the other.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "bad_cell.hpp"
#include "digit_groups.hpp"
#include "plain_row.hpp"
#include "text_table.hpp"
#include "time_column.hpp"

namespace pulsewright::reading {

class RowTimes {
 public:
  /// `samples_per_second` turns sample numbers into times.
  RowTimes(const TimeColumn& column, double samples_per_second, char delimiter, const std::string& column_name,
           const std::string& file);

  /// Takes the time of the row off `rest`, in the unit of the column; of a clock, in seconds. False, with the reason,
  /// when there is none.
  bool take(std::string_view& rest, bool& last, BadCell& bad, TextTable& table);
  /// Takes that of a plain row; not of a clock.
  void take_plain(const PlainNumber& number, std::int64_t row);
  /// Checks the time that was taken against the one before, and keeps it in seconds from the first. Throws
  /// Error{unreadable} for one that falls and is no clock that wrapped or began anew.
  void add(TextTable& table, std::int64_t line_number);
  /// Tells of clocks that began anew.
  void tell_restarts(TextTable& table) const;
  /// The value of the last digit of the times, in seconds.
  [[nodiscard]] double resolution() const;
  [[nodiscard]] const GroupClues& clues() const { return clues_; }

 private:
  bool read(std::string_view cell, BadCell& bad, TextTable& table);
  bool wraps(double raw, std::int64_t line_number, TextTable& table);
  bool restarts(double raw, std::int64_t line_number);

  const TimeColumn& column_;
  char delimiter_;
  const std::string column_name_;
  const std::string& file_;
  double scale_;
  GroupClues clues_;
  double time_ = 0;  ///< of the row at hand, as it was taken
  std::int64_t first_day_ = 0;
  double first_raw_ = 0;
  double before_ = 0;
  double before_raw_ = 0;
  double added_ = 0;
  double pending_resolution_ = 1;
  double clock_resolution_ = 1;
  std::int64_t restarts_ = 0, first_restart_ = 0;
  int pending_decimals_ = 0;
  int block_decimals_ = 0;
  int decimals_;
};

}  // namespace pulsewright::reading
