#include "row_times.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cell_end.hpp"
#include "clock_text.hpp"
#include "decimal.hpp"
#include "message.hpp"
#include "text_cell.hpp"

namespace pulsewright::reading {

namespace {

constexpr double day_s = 86400;
/// Rows over which the decimals of times are compared; trailing zeros may be left out in single rows.
constexpr std::int64_t decimals_rows = 1000;
constexpr int not_seen = 99;
/// More are not counted.
constexpr int most_decimals = 12;
/// A clock that falls began anew (ours) when it stands at no more than this, or this near its first value, after having
/// gone on for so long.
constexpr double most_after_restart_s = 2, least_before_restart_s = 5;
/// Long enough that no interval between beats spans it.
constexpr double gap_at_restart_s = 5;

}  // namespace

RowTimes::RowTimes(const TimeColumn& column, double samples_per_second, char delimiter, const std::string& column_name,
                   const std::string& file)
    : column_(column),
      delimiter_(delimiter),
      column_name_(column_name),
      file_(file),
      scale_(column.unit == TimeUnit::samples ? 1 / samples_per_second : seconds_in(column.unit)),
      decimals_(not_seen) {}

bool RowTimes::take(std::string_view& rest, bool& last, BadCell& bad, TextTable& table) {
  std::string_view behind = without_blanks_before(rest);
  Decimal number;
  if (column_.unit == TimeUnit::clock || !take_decimal(behind, number) || !end_cell(behind, rest, last, delimiter_))
    return read(take_cell(rest, delimiter_, last).text, bad, table);
  time_ = number.value;
  pending_decimals_ = std::min(number.decimals, most_decimals);
  clues_.take(time_, number.decimals, NumberSign::point, table.rows);
  return true;
}

void RowTimes::take_plain(const PlainNumber& number, std::int64_t row) {
  time_ = number.value;
  pending_decimals_ = std::min(number.decimals, most_decimals);
  clues_.take(time_, number.decimals, number.sign, row);
}

bool RowTimes::read(std::string_view cell, BadCell& bad, TextTable& table) {
  if (column_.unit == TimeUnit::clock) {
    const auto clock = parse_clock(cell);
    if (!clock || !clock->has_time) {
      bad = {column_.column, std::string{cell}, "a time is hh:mm:ss like those above it, with a date if they have one"};
      return false;
    }
    if (table.rows == 0) {
      table.first_clock = *clock;
      first_day_ = clock->day.value_or(0);
    }
    time_ = clock->second - static_cast<double>(clock->zone.value_or(0)) +
            static_cast<double>(clock->day.value_or(first_day_) - first_day_) * day_s;
    pending_resolution_ = clock->resolution;
    return true;
  }
  const auto number = number_in(cell, true);
  if (!number) {
    bad = {column_.column, std::string{cell}, "a time is a number in every row"};
    return false;
  }
  time_ = *number;
  const std::size_t point = cell.find_first_of(".,");
  const bool comma = point != std::string_view::npos && cell[point] == ',';
  clues_.take(time_, decimals_of(cell), comma ? NumberSign::comma : NumberSign::point, table.rows);
  pending_decimals_ = point == std::string_view::npos
                          ? 0
                          : static_cast<int>(std::min<std::size_t>(cell.size() - point - 1, most_decimals));
  return true;
}

void RowTimes::add(TextTable& table, std::int64_t line_number) {
  if (column_.unit == TimeUnit::clock) {
    clock_resolution_ = std::min(clock_resolution_, pending_resolution_);
  } else {
    block_decimals_ = std::max(block_decimals_, pending_decimals_);
    if (table.rows % decimals_rows == decimals_rows - 1) {
      decimals_ = std::min(decimals_, block_decimals_);
      block_decimals_ = 0;
    }
  }
  double time = time_;
  const double raw = time;
  if (table.rows == 0) {
    first_raw_ = raw;
    table.first_time = column_.unit == TimeUnit::clock ? raw : raw * scale_;
  }
  time += added_;
  if (time < before_ && table.rows > 0) {
    if (!wraps(raw, line_number, table) && !restarts(raw, line_number))
      refuse({file_, line_number, std::nullopt, column_name_}, fmt::format("{}", raw),
             fmt::format("time runs backwards; the row before has {}", before_raw_));
    time = raw + added_;
  }
  before_ = time;
  before_raw_ = raw;
  const double elapsed = time - first_raw_;
  table.times.push_back(column_.unit == TimeUnit::clock ? elapsed : elapsed * scale_);
}

/// A clock that started again at midnight or after 2^32 counts.
bool RowTimes::wraps(double raw, std::int64_t line_number, TextTable& table) {
  constexpr double counts = 4294967296.0;
  if (column_.unit == TimeUnit::clock) {
    if (table.first_clock->day || before_raw_ - raw < day_s / 2) return false;
    added_ += day_s;
    return true;
  }
  const bool counter = column_.unit == TimeUnit::microseconds || column_.unit == TimeUnit::milliseconds;
  if (!counter || before_raw_ >= counts || before_raw_ - raw < counts / 2) return false;
  added_ += counts;
  table.warnings.push_back({"clock_wrapped", message_at({file_, line_number},
                                                        "the clock's 32-bit counter started again at "
                                                        "0; time is taken to go on")});
  return true;
}

/// A device that was switched on again: its clock begins where it began before.
bool RowTimes::restarts(double raw, std::int64_t line_number) {
  if (column_.unit == TimeUnit::clock || column_.counts_from_1970) return false;
  const bool near_start =
      std::abs(raw - first_raw_) * scale_ <= most_after_restart_s || raw * scale_ <= most_after_restart_s;
  if (!near_start || (before_raw_ - raw) * scale_ < least_before_restart_s) return false;
  added_ = before_ + gap_at_restart_s / scale_ - raw;
  if (restarts_++ == 0) first_restart_ = line_number;
  return true;
}

void RowTimes::tell_restarts(TextTable& table) const {
  if (restarts_ == 0) return;
  table.warnings.push_back(
      {"clock_restarted",
       message_at(
           {file_, first_restart_, std::nullopt, column_name_},
           fmt::format("time begins anew here{}, as when a device is switched on again or recordings are put into "
                       "one file; nobody knows how long it stood still, so {} s of missing samples stand between "
                       "the pieces, and no later time is one after the start",
                       restarts_ == 1 ? "" : fmt::format(" and {} times more", restarts_ - 1), gap_at_restart_s))});
}

double RowTimes::resolution() const {
  if (column_.unit == TimeUnit::clock) return clock_resolution_;
  double power = 1;  // exact, as long as there are so few digits
  for (int k = decimals_ == not_seen ? block_decimals_ : decimals_; k > 0; --k) power *= 10;
  return 1 / power * scale_;
}

}  // namespace pulsewright::reading
