#include "text_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstring>
#include <limits>

#include "bad_cell.hpp"
#include "message.hpp"
#include "number_text.hpp"
#include "plain_row.hpp"
#include "row_times.hpp"
#include "sample_cells.hpp"
#include "size_limit.hpp"

namespace pulsewright::reading {

namespace {

constexpr float not_recorded = std::numeric_limits<float>::quiet_NaN();
/// A longer line is no row: 1 MiB.
constexpr std::size_t longest_line = std::size_t{1} << 20;
/// Room is made for so many rows at most before they are seen.
constexpr std::size_t most_reserved = std::size_t{1} << 24;

/// Lines that cannot be read are forgiven up to one in this many, and this many in a row (ours: a glitch of the line, not another file inside).
constexpr std::int64_t lines_for_one_bad = 100;
constexpr std::int64_t most_bad_in_a_row = 5;

/// Reads the file's rows one by one.
class RowReader {
 public:
  RowReader(LineBlocks& blocks, std::size_t size_hint, const TextLayout& layout, const std::optional<TimeColumn>& time,
            double samples_per_second, const std::string& file, const ByteSink& sink)
      : blocks_(blocks),
        layout_(layout),
        file_(file),
        sink_(sink),
        delimiter_(layout.style.delimiter),
        cells_(layout, file),
        line_number_(layout.data_line - 1) {
    if (time) times_.emplace(*time, samples_per_second, delimiter_, column_text(layout, time->column), file);
    for (std::size_t k = 0; k < layout.columns; ++k) {
      const bool date = time && time->date_column == k;
      const bool is_time = time && time->column == k;
      role_.push_back(is_time ? Role::time : date || layout.is_text[k] ? Role::none : Role::sample);
    }
    table_.samples.resize(layout.columns);
    row_.resize(layout.columns);
    const bool of_clock = time && time->unit == TimeUnit::clock;
    if (delimiter_ != ' ' && !of_clock) plain_.emplace(layout.columns, delimiter_);
    reserve(size_hint);
  }

  TextTable read() {
    bool first = true;
    while (!done_ && !blocks_.at_end()) {
      const std::string_view block = blocks_.next();
      const std::size_t from = first ? layout_.data_byte : 0;
      const std::size_t used = read_block(block, std::min(from, block.size()));
      if (sink_) sink_({reinterpret_cast<const unsigned char*>(block.data()), used});
      before_block_ += static_cast<std::int64_t>(block.size());
      first = false;
    }
    judge_bad_lines();
    cells_.settle_thousands(table_, times_ ? times_->clues() : GroupClues{});
    if (times_) {
      table_.resolution = times_->resolution();
      times_->tell_restarts(table_);
    }
    return std::move(table_);
  }

 private:
  enum class Role { sample, time, none };

  /// Room for the rows of a text of so many bytes, judged by its first row.
  void reserve(std::size_t size_hint) {
    std::size_t row = 0;
    if (!layout_.first_rows.empty())
      for (const std::string& cell : layout_.first_rows.front()) row += cell.size() + 1;
    const std::size_t rows = size_hint / std::max<std::size_t>(row, 2) + 1;
    for (std::size_t k = 0; k < layout_.columns; ++k)
      if (role_[k] == Role::sample) table_.samples[k].reserve(std::min(rows, most_reserved));
    if (times_) table_.times.reserve(std::min(rows, most_reserved));
  }

  /// Reads the rows of a block from byte `at` on; returns how many of its bytes were text.
  std::size_t read_block(std::string_view block, std::size_t at) {
    while (at < block.size()) {
      if (plain_) {
        std::string_view rest = block.substr(at);
        if (plain_->take(rest)) {
          at = block.size() - rest.size();
          keep_plain_row(++line_number_);
          continue;
        }
      }
      const std::size_t room = std::min(block.size() - at, longest_line);
      const void* feed = std::memchr(block.data() + at, '\n', room);
      const bool cut = at + room < block.size() || !blocks_.at_end();
      if (feed == nullptr && cut && block[at] != '\0')
        refuse({file_, line_number_ + 1}, "is longer than 1 MiB; it is no row of a table");
      const std::size_t length =
          feed == nullptr ? room : static_cast<std::size_t>(static_cast<const char*>(feed) - block.data()) - at;
      std::string_view line = block.substr(at, length);
      ++line_number_;
      if (!line.empty() && line.front() == '\0') {
        end_in_zeros(block, at);
        return at;
      }
      at += length + (feed == nullptr ? 0 : 1);
      if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
      if (is_blank_or_comment(line)) continue;
      BadCell bad;
      if (!take_row(line, line_number_, bad)) {
        cells_.take_back(table_.rows);
        const bool unfinished = feed == nullptr || (at < block.size() && block[at] == '\0');
        if (!unfinished || table_.rows == 0) {
          pass_over(bad, line_number_);
          continue;
        }
        table_.warnings.push_back(
            {"incomplete_last_line",
             message_at({file_, line_number_}, line,
                        "the last line has no end and is incomplete, as after a power cut; it is left "
                        "out")});
        continue;
      }
      bad_in_a_row_ = 0;
      end_row(line_number_);
    }
    check_size({file_}, table_.rows, static_cast<std::int64_t>(layout_.columns));
    return block.size();
  }

  void keep_plain_row(std::int64_t line_number) {
    const std::vector<PlainNumber>& numbers = plain_->numbers();
    for (std::size_t k = 0; k < layout_.columns; ++k) {
      if (role_[k] == Role::sample)
        table_.samples[k].push_back(cells_.plain(numbers[k], k, table_.rows));
      else if (role_[k] == Role::time)
        times_->take_plain(numbers[k], table_.rows);
    }
    if (times_) times_->add(table_, line_number);
    bad_in_a_row_ = 0;
    end_row(line_number);
  }

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
        if (!cells_.take(rest, last, row_[k], bad, k, table_.rows)) return false;
      } else if (role_[k] == Role::time) {
        if (!times_->take(rest, last, bad, table_)) return false;
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
    if (times_) times_->add(table_, line_number);
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
    if (times_) return;
    for (std::size_t c = 0; c < layout_.columns; ++c)
      if (role_[c] == Role::sample) table_.samples[c].push_back(not_recorded);
    end_row(line_number);
  }

  void judge_bad_lines() {
    if (bad_lines_ == 0) return;
    const std::int64_t good = times_ ? table_.rows : table_.rows - bad_lines_;
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
                     first_bad_.column == no_column ? std::string{} : column_text(layout_, first_bad_.column)},
                    first_bad_.value,
                    fmt::format("{} of {} lines cannot be read, the first here; {}", bad_lines_, lines,
                                times_ ? "they are left out, and times show what is missing"
                                       : "each counts as one sample that was not recorded"))});
  }

  /// The last column is nameless, so that it exists only by a delimiter at the end of some lines.
  bool unnamed_last() const { return layout_.names.empty() ? false : layout_.names.back().name.empty(); }

  /// Nothing but zero bytes may follow.
  void end_in_zeros(std::string_view block, std::size_t at) {
    const Place place{file_, line_number_, before_block_ + static_cast<std::int64_t>(at)};
    std::size_t zeros = 0;
    for (std::string_view tail = block.substr(at);; tail = blocks_.next()) {
      if (tail.find_first_not_of('\0') != std::string_view::npos || table_.rows == 0)
        refuse(place, block.substr(at, 1), "is no character of a text");
      zeros += tail.size();
      if (blocks_.at_end()) break;
    }
    done_ = true;
    table_.warnings.push_back(
        {"zero_bytes_at_end",
         message_at(place, fmt::format("the last {} bytes are zero, as after a power cut; they are ignored", zeros))});
  }

  [[noreturn]] void refuse_cell(const BadCell& bad, std::int64_t line_number) const {
    refuse(
        {file_, line_number, std::nullopt, bad.column == no_column ? std::string{} : column_text(layout_, bad.column)},
        bad.value, bad.rule);
  }

  LineBlocks& blocks_;
  const TextLayout& layout_;
  const std::string& file_;
  const ByteSink& sink_;
  char delimiter_;
  std::vector<Role> role_;
  std::vector<float> row_;
  SampleCells cells_;
  std::optional<RowTimes> times_;
  std::optional<PlainRow> plain_;  ///< nothing where no row can be plain
  TextTable table_;
  BadCell first_bad_;  ///< of the lines that cannot be read
  std::int64_t first_bad_line_ = 0;
  std::int64_t bad_lines_ = 0;
  std::int64_t bad_in_a_row_ = 0;
  std::int64_t worst_run_ = 0;
  std::int64_t line_number_ = 0;
  std::int64_t before_block_ = 0;  ///< bytes of the blocks before the one at hand
  bool done_ = false;
};

}  // namespace

std::int64_t RowLines::line_of(std::int64_t row) const {
  const auto above =
      std::upper_bound(runs_.begin(), runs_.end(), row, [](std::int64_t r, const auto& run) { return r < run.first; });
  if (above == runs_.begin()) return row + 1;
  const auto& run = *(above - 1);
  return run.second + (row - run.first);
}

TextTable read_text_table(LineBlocks& blocks, std::size_t size_hint, const TextLayout& layout,
                          const std::optional<TimeColumn>& time_column, double samples_per_second,
                          const std::string& file, const ByteSink& sink) {
  return RowReader{blocks, size_hint, layout, time_column, samples_per_second, file, sink}.read();
}

}  // namespace pulsewright::reading
