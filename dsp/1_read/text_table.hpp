/// The rows of a text file, read in one pass.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "clock_text.hpp"
#include "text_layout.hpp"
#include "time_column.hpp"

namespace pulsewright::reading {

/// Lines of rows: where rows and lines go in step only the first row of a run is kept.
class RowLines {
 public:
  void add(std::int64_t row, std::int64_t line) {
    if (runs_.empty() || runs_.back().second + (row - runs_.back().first) != line) runs_.emplace_back(row, line);
  }
  [[nodiscard]] std::int64_t line_of(std::int64_t row) const;

 private:
  std::vector<std::pair<std::int64_t, std::int64_t>> runs_;
};

struct TextTable {
  std::vector<std::vector<float>> samples;  ///< one a column; empty for time, date and word columns
  std::vector<double> times;                ///< seconds from the first row, not falling; empty without a time column
  double first_time = 0;                    ///< of the first row, as the file counts
  double resolution = 0;                    ///< value of the last digit of the times, in seconds
  std::optional<ClockTime> first_clock;     ///< of the first row, when the times are clock times
  std::int64_t rows = 0;
  std::size_t bytes_read = 0;  ///< up to here the file was text
  RowLines lines;
  Warnings warnings;
};

/// Reads the rows. Blank and comment lines are skipped; an empty cell or `nan` is NaN.
///
/// Error{unreadable}, naming line, column, value and rule: a falling time; a byte 0 in the middle; a line above 1 MiB; lines that cannot be read (a
/// word in a column of numbers, too few or too many cells, a missing time) when they are more than one in a hundred or more than five in a row.
/// Forgiven with a warning: fewer such lines (`unreadable_lines`), which are left out when rows have times, and else are one missing sample each;
/// a last line without line end that is incomplete
/// (`incomplete_last_line`); zero bytes after the last line (`zero_bytes_at_end`); a clock of 32 bits in ms or us that starts again at 0
/// (`clock_wrapped`). A time of day that falls by more than 12 hours has passed midnight.
/// `samples_per_second` turns sample numbers into times.
[[nodiscard]] TextTable read_text_table(std::string_view text, const TextLayout& layout,
                                        const std::optional<TimeColumn>& time_column, double samples_per_second,
                                        const std::string& file);

}  // namespace pulsewright::reading
