#include "text_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstring>
#include <limits>

#include "decimal.hpp"
#include "elementary/elementary.hpp"
#include "message.hpp"
#include "number_text.hpp"
#include "size_limit.hpp"

namespace pulsewright::reading {

namespace {

constexpr float not_recorded = std::numeric_limits<float>::quiet_NaN();
constexpr double day_s = 86400;
/// A longer line is no row: 1 MiB.
constexpr std::size_t longest_line = std::size_t{1} << 20;
/// Rows over which the decimals of times are compared; trailing zeros may be left out in single rows.
constexpr std::int64_t decimals_rows = 1000;

/// Lines that cannot be read are forgiven up to one in this many, and this many in a row (ours: a glitch of the line, not another file inside).
constexpr std::int64_t lines_for_one_bad = 100;
constexpr std::int64_t most_bad_in_a_row = 5;

/// Why a line could not be taken.
struct BadCell {
  std::size_t column = 0;
  std::string value;
  std::string rule;
};

/// Reads the file's rows one by one.
class RowReader {
 public:
  RowReader(std::string_view text, const TextLayout& layout, const std::optional<TimeColumn>& time,
            double samples_per_second, const std::string& file)
      : text_(text), layout_(layout), time_(time), file_(file), delimiter_(layout.style.delimiter) {
    if (time_) scale_ = time_->unit == TimeUnit::samples ? 1 / samples_per_second : seconds_in(time_->unit);
    const std::string_view line = text.substr(layout.data_byte, longest_line);
    const std::size_t first_line = std::min(line.find('\n'), line.size()) + 1;
    const std::size_t estimate = std::min<std::size_t>((text.size() - layout.data_byte) / first_line + 1, 1 << 24);
    for (std::size_t k = 0; k < layout.columns; ++k) {
      const bool date = time_ && time_->date_column == k;
      const bool is_time = time_ && time_->column == k;
      role_.push_back(is_time ? Role::time : date || layout.is_text[k] ? Role::none : Role::sample);
    }
    table_.samples.resize(layout.columns);
    for (std::size_t k = 0; k < layout.columns; ++k)
      if (role_[k] == Role::sample) table_.samples[k].reserve(estimate);
    if (time_) table_.times.reserve(estimate);
    row_.resize(layout.columns);
  }

  TextTable read() {
    std::size_t at = layout_.data_byte;
    std::int64_t line_number = layout_.data_line - 1;
    while (at < text_.size()) {
      const std::size_t room = std::min(text_.size() - at, longest_line);
      const void* feed = std::memchr(text_.data() + at, '\n', room);
      if (feed == nullptr && at + room < text_.size() && text_[at] != '\0')
        refuse({file_, line_number + 1}, "is longer than 1 MiB; it is no row of a table");
      const std::size_t length =
          feed == nullptr ? room : static_cast<std::size_t>(static_cast<const char*>(feed) - text_.data()) - at;
      std::string_view line = text_.substr(at, length);
      ++line_number;
      if (!line.empty() && line.front() == '\0') {
        end_in_zeros(at, line_number);
        break;
      }
      at += length + (feed == nullptr ? 0 : 1);
      if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
      if (is_blank_or_comment(line)) continue;
      BadCell bad;
      if (!take_row(line, line_number, bad)) {
        const bool unfinished = feed == nullptr || (at < text_.size() && text_[at] == '\0');
        if (!unfinished || table_.rows == 0) {
          pass_over(bad, line_number);
          continue;
        }
        table_.warnings.push_back(
            {"incomplete_last_line",
             message_at({file_, line_number}, line,
                        "the last line has no end and is incomplete, as after a power cut; it is left "
                        "out")});
        if (feed == nullptr) break;
        continue;
      }
      bad_in_a_row_ = 0;
      end_row(line_number);
      if (table_.rows % 65536 == 0) check_size({file_}, table_.rows, static_cast<std::int64_t>(layout_.columns));
    }
    table_.bytes_read = std::min(at, text_.size());
    judge_bad_lines();
    if (time_ && decimals_ == not_seen) decimals_ = block_decimals_;
    if (time_)
      table_.resolution =
          time_->unit == TimeUnit::clock ? clock_resolution_ : elementary::pow(10.0, -decimals_) * scale_;
    return std::move(table_);
  }

 private:
  enum class Role { sample, time, none };
  static constexpr int not_seen = 99;
  /// More are not counted.
  static constexpr int most_decimals = 12;

  bool is_blank_or_comment(std::string_view line) const {
    const char* p = line.data();
    const char* const end = p + line.size();
    while (p < end && (*p == ' ' || (*p == '\t' && delimiter_ != '\t') || *p == '\x1a')) ++p;
    if (p == end) return delimiter_ != '\t' || layout_.columns < 2 || trimmed(line).empty();
    if (*p == '#' || *p == '%') return true;
    return *p == '/' && p + 1 < end && p[1] == '/';
  }

  /// Fills `row_` and the table; false leaves the table as it was.
  bool take_row(std::string_view line, std::int64_t line_number, BadCell& bad) {
    double time = 0;
    std::size_t k = 0;
    std::string_view rest = line;
    bool last = false;
    for (; !last; ++k) {
      if (k == layout_.columns) {
        if (trimmed(rest).empty()) break;  // a delimiter at the end of the line
        bad = {no_column, std::string{line},
               fmt::format("has more than the {} cells of the other rows", layout_.columns)};
        return false;
      }
      if (role_[k] == Role::sample) {
        if (!take_number(rest, last, row_[k], bad, k)) return false;
      } else if (role_[k] == Role::time) {
        if (!take_time(rest, last, time, bad, k)) return false;
      } else {
        static_cast<void>(take_cell(rest, delimiter_, last));
      }
    }
    if (k < layout_.columns && !(k + 1 == layout_.columns && unnamed_last())) {
      bad = {no_column, std::string{line},
             fmt::format("has {} cells where the other rows have {}", k, layout_.columns)};
      return false;
    }
    for (; k < layout_.columns; ++k) row_[k] = not_recorded;
    if (time_) add_time(time, line_number);
    for (std::size_t c = 0; c < layout_.columns; ++c)
      if (role_[c] == Role::sample) table_.samples[c].push_back(row_[c]);
    return true;
  }

  void end_row(std::int64_t line_number) {
    table_.lines.add(table_.rows, line_number);
    ++table_.rows;
  }

  /// A line that cannot be read. With times the gap shows by itself; without, the line stands for one sample that was not recorded.
  void pass_over(BadCell& bad, std::int64_t line_number) {
    if (bad_lines_ == 0) {
      first_bad_ = std::move(bad);
      first_bad_line_ = line_number;
    }
    ++bad_lines_;
    worst_run_ = std::max(worst_run_, ++bad_in_a_row_);
    if (time_) return;
    for (std::size_t c = 0; c < layout_.columns; ++c)
      if (role_[c] == Role::sample) table_.samples[c].push_back(not_recorded);
    end_row(line_number);
  }

  void judge_bad_lines() {
    if (bad_lines_ == 0) return;
    const std::int64_t good = time_ ? table_.rows : table_.rows - bad_lines_;
    const std::int64_t lines = good + bad_lines_;
    if (good == 0 || bad_lines_ * lines_for_one_bad > lines || worst_run_ > most_bad_in_a_row) {
      if (bad_lines_ > 1)
        first_bad_.rule += fmt::format(
            "; {} of {} lines cannot be read, up to {} in a row: repair them, or mark samples that "
            "were not recorded by an empty cell or nan",
            bad_lines_, lines, worst_run_);
      refuse_cell(first_bad_, first_bad_line_);
    }
    table_.warnings.push_back(
        {"unreadable_lines",
         message_at({file_, first_bad_line_, std::nullopt,
                     first_bad_.column == no_column ? std::string{} : column_text(first_bad_.column)},
                    first_bad_.value,
                    fmt::format("{} of {} lines cannot be read, the first here; {}", bad_lines_, lines,
                                time_ ? "they are left out, and times show what is missing"
                                      : "each counts as one sample that was not recorded"))});
  }

  /// The last column is nameless, so that it exists only by a delimiter at the end of some lines.
  bool unnamed_last() const { return layout_.names.empty() ? false : layout_.names.back().name.empty(); }

  /// Takes what is behind a number off `rest`, up to the next cell; false, and nothing is taken, where the cell does not end there.
  bool end_cell(std::string_view behind, std::string_view& rest, bool& last) const {
    const char* q = behind.data();
    const char* const end = q + behind.size();
    while (q < end && *q == ' ') ++q;
    const bool blank = delimiter_ == ' ' && q > behind.data();
    if (q != end && *q != delimiter_ && !blank) return false;
    last = q == end;
    if (!last && !blank) ++q;
    rest.remove_prefix(static_cast<std::size_t>(q - rest.data()));
    return true;
  }

  static std::string_view without_blanks_before(std::string_view text) {
    while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    return text;
  }

  bool take_number(std::string_view& rest, bool& last, float& sample, BadCell& bad, std::size_t k) {
    std::string_view behind = without_blanks_before(rest);
    Decimal number;
    bool is_number = take_decimal(behind, number);
    if (!is_number) {
      const auto [at, fault] = std::from_chars(behind.data(), behind.data() + behind.size(), number.value);
      is_number = fault == std::errc{} && std::isfinite(number.value);
      behind.remove_prefix(static_cast<std::size_t>(at - behind.data()));
    }
    if (is_number && end_cell(behind, rest, last)) {
      sample = static_cast<float>(number.value);
      return true;
    }
    const Cell cell = take_cell(rest, delimiter_, last);
    if (is_missing(cell.text)) {
      sample = not_recorded;
      return true;
    }
    const auto other = number_in(cell.text, layout_.style.decimal_comma || cell.quoted);
    if (!other) {
      bad = {k, std::string{cell.text}, "a sample is a finite number, or empty or nan where nothing was recorded"};
      return false;
    }
    sample = static_cast<float>(*other);
    return true;
  }

  /// Takes a time, in the unit of its column; of a clock, in seconds.
  bool take_time(std::string_view& rest, bool& last, double& time, BadCell& bad, std::size_t k) {
    std::string_view behind = without_blanks_before(rest);
    Decimal number;
    if (time_->unit == TimeUnit::clock || !take_decimal(behind, number) || !end_cell(behind, rest, last))
      return read_time(take_cell(rest, delimiter_, last).text, time, bad, k);
    time = number.value;
    pending_decimals_ = std::min(number.decimals, most_decimals);
    return true;
  }

  bool read_time(std::string_view cell, double& time, BadCell& bad, std::size_t k) {
    if (time_->unit == TimeUnit::clock) {
      const auto clock = parse_clock(cell);
      if (!clock || !clock->has_time) {
        bad = {k, std::string{cell}, "a time is hh:mm:ss like those above it, with a date if they have one"};
        return false;
      }
      if (table_.rows == 0) {
        table_.first_clock = *clock;
        first_day_ = clock->day.value_or(0);
      }
      time = clock->second - static_cast<double>(clock->zone.value_or(0)) +
             static_cast<double>(clock->day.value_or(first_day_) - first_day_) * day_s;
      pending_resolution_ = clock->resolution;
      return true;
    }
    const auto number = number_in(cell, true);
    if (!number) {
      bad = {k, std::string{cell}, "a time is a number in every row"};
      return false;
    }
    time = *number;
    const std::size_t point = cell.find_first_of(".,");
    pending_decimals_ = point == std::string_view::npos
                            ? 0
                            : static_cast<int>(std::min<std::size_t>(cell.size() - point - 1, most_decimals));
    return true;
  }

  /// Checks a time against the one before and keeps it.
  void add_time(double time, std::int64_t line_number) {
    if (time_->unit == TimeUnit::clock) {
      clock_resolution_ = std::min(clock_resolution_, pending_resolution_);
    } else {
      block_decimals_ = std::max(block_decimals_, pending_decimals_);
      if (table_.rows % decimals_rows == decimals_rows - 1) {
        decimals_ = std::min(decimals_, block_decimals_);
        block_decimals_ = 0;
      }
    }
    const double raw = time;
    if (table_.rows == 0) {
      first_raw_ = raw;
      table_.first_time = time_->unit == TimeUnit::clock ? raw : raw * scale_;
    }
    time += added_;
    if (time < before_ && table_.rows > 0) {
      if (wraps(raw, line_number)) {
        time = raw + added_;
      } else {
        refuse({file_, line_number, std::nullopt, column_text(time_->column)}, fmt::format("{}", raw),
               fmt::format("time runs backwards; the row before has {}", before_raw_));
      }
    }
    before_ = time;
    before_raw_ = raw;
    const double elapsed = time - first_raw_;
    table_.times.push_back(time_->unit == TimeUnit::clock ? elapsed : elapsed * scale_);
  }

  /// A clock that started again at midnight or after 2^32 counts.
  bool wraps(double raw, std::int64_t line_number) {
    constexpr double counts = 4294967296.0;
    if (time_->unit == TimeUnit::clock) {
      if (table_.first_clock->day || before_raw_ - raw < day_s / 2) return false;
      added_ += day_s;
      return true;
    }
    const bool counter = time_->unit == TimeUnit::microseconds || time_->unit == TimeUnit::milliseconds;
    if (!counter || before_raw_ >= counts || before_raw_ - raw < counts / 2) return false;
    added_ += counts;
    table_.warnings.push_back({"clock_wrapped", message_at({file_, line_number},
                                                           "the clock's 32-bit counter started again at "
                                                           "0; time is taken to go on")});
    return true;
  }

  void end_in_zeros(std::size_t at, std::int64_t line_number) {
    const std::string_view tail = text_.substr(at, longest_line);
    const std::size_t other = tail.find_first_not_of('\0');
    if (other != std::string_view::npos || table_.rows == 0)
      refuse({file_, line_number, static_cast<std::int64_t>(at)}, tail.substr(0, 1), "is no character of a text");
    table_.warnings.push_back(
        {"zero_bytes_at_end",
         message_at(
             {file_, line_number, static_cast<std::int64_t>(at)},
             fmt::format("the last {} bytes are zero, as after a power cut; they are ignored", text_.size() - at))});
  }

  std::string column_text(std::size_t k) const {
    if (k < layout_.names.size() && !layout_.names[k].name.empty()) return layout_.names[k].name;
    return std::to_string(k + 1);
  }

  [[noreturn]] void refuse_cell(const BadCell& bad, std::int64_t line_number) const {
    refuse({file_, line_number, std::nullopt, bad.column == no_column ? std::string{} : column_text(bad.column)},
           bad.value, bad.rule);
  }

  static constexpr std::size_t no_column = std::numeric_limits<std::size_t>::max();

  std::string_view text_;
  const TextLayout& layout_;
  const std::optional<TimeColumn>& time_;
  const std::string& file_;
  char delimiter_;
  double scale_ = 1;
  std::vector<Role> role_;
  std::vector<float> row_;
  TextTable table_;
  BadCell first_bad_;  ///< of the lines that cannot be read
  std::int64_t first_bad_line_ = 0;
  std::int64_t bad_lines_ = 0;
  std::int64_t bad_in_a_row_ = 0;
  std::int64_t worst_run_ = 0;
  std::int64_t first_day_ = 0;
  double first_raw_ = 0;
  double before_ = 0;
  double before_raw_ = 0;
  double added_ = 0;
  double pending_resolution_ = 1;
  double clock_resolution_ = 1;
  int pending_decimals_ = 0;
  int block_decimals_ = 0;
  int decimals_ = not_seen;
};

}  // namespace

std::int64_t RowLines::line_of(std::int64_t row) const {
  const auto above =
      std::upper_bound(runs_.begin(), runs_.end(), row, [](std::int64_t r, const auto& run) { return r < run.first; });
  if (above == runs_.begin()) return row + 1;
  const auto& run = *(above - 1);
  return run.second + (row - run.first);
}

TextTable read_text_table(std::string_view text, const TextLayout& layout, const std::optional<TimeColumn>& time_column,
                          double samples_per_second, const std::string& file) {
  return RowReader{text, layout, time_column, samples_per_second, file}.read();
}

}  // namespace pulsewright::reading
