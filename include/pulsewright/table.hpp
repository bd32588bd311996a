/// A small table of text with named columns, as a person writes it in a spreadsheet: rosters, session sheets, marks, logs.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace pulsewright {

/// One row and the line of the file it stands on.
struct TableRow {
  std::int64_t line = 0;
  std::vector<std::string> cells;  ///< trimmed, without quotes; as many as there are columns
};

/// Cells are text; `number_at` and its likes say what they hold.
struct Table {
  std::string file;  ///< as messages name it
  std::string sha256;
  char delimiter = ',';
  std::vector<std::string> columns;  ///< trimmed, lower case
  std::int64_t header_line = 1;
  std::vector<TableRow> rows;

  /// The position of a column; nothing when there is none of that name.
  [[nodiscard]] std::optional<std::size_t> column(std::string_view name) const;
  /// A row's cell; empty when there is no such column.
  [[nodiscard]] std::string_view cell(const TableRow& row, std::string_view name) const;
  /// The number in a cell, with a decimal comma where cells are not parted by commas; nothing when it is no finite number.
  [[nodiscard]] std::optional<double> number(std::string_view cell) const;
};

/// Reads a table: the first line that is neither empty nor a comment (`#`) names the columns. Cells are parted by commas, semicolons or tabs, whichever the
/// header has; a byte-order mark is passed over; a row with fewer cells is filled with empty ones.
/// Throws Error{unreadable} for a file that cannot be read, holds no header, names a column twice, has a row with more cells than columns, or a quote that is not closed.
[[nodiscard]] Table read_table(const std::filesystem::path& path);
/// The same from bytes; `file` is how messages name it.
[[nodiscard]] Table table_of(std::string_view text, const std::string& file);

/// Collects what is wrong with a file, line by line, so that all of it is told at once.
class TableFaults {
 public:
  explicit TableFaults(std::string file) : file_(std::move(file)) {}

  /// "line 4: column 'age_years': value 'old': an age is a number of years".
  void add(std::int64_t line, std::string_view column, std::string_view value, std::string_view rule);
  void add(std::int64_t line, std::string_view rule);
  [[nodiscard]] bool empty() const { return lines_.empty(); }
  /// Throws Error{unreadable} with every fault (the first twenty, and how many more), one a line; does nothing when there are none.
  void refuse() const;

 private:
  std::string file_;
  std::vector<std::string> lines_;
};

/// A time of day in seconds after midnight, written `hh:mm` or `hh:mm:ss`, with decimals of a second if need be; nothing when the text is none.
[[nodiscard]] std::optional<double> time_of_day_in(std::string_view text);

}  // namespace pulsewright
