/// A sheet: a delimited table of words and numbers with a header, one thing a row.
#pragma once

#include <cstddef>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace pulsewright::program {

struct SheetRow {
  std::size_t line = 0;                      ///< in the file, from 1
  std::map<std::string, std::string> cells;  ///< by column; empty cells left out

  /// The cell of a column; empty when there is none.
  [[nodiscard]] std::string word(const std::string& column) const;
};

struct Sheet {
  std::string file;
  char delimiter = ',';
  std::vector<std::string> columns;
  std::vector<SheetRow> rows;

  [[nodiscard]] bool has(const std::string& column) const;
  /// The number in a cell; nothing when it is empty. Throws Error{unreadable} with file, line, column and value for what is no finite number. A decimal comma is read
  /// where cells are parted by semicolons or tabs.
  [[nodiscard]] std::optional<double> number(const SheetRow& row, const std::string& column) const;
  /// Throws Error{unreadable} naming the row.
  [[noreturn]] void refuse(const SheetRow& row, const std::string& rule) const;
};

/// Reads a sheet; cells are parted by semicolons, tabs or commas, whichever the header has, and may be quoted (RFC 4180). Blank lines and lines that begin with # are passed over;
/// names of columns are made lower case. Throws Error{unreadable} for a file that cannot be read, one without rows, a name that occurs twice, or a row with more cells than there are
/// columns; Error{usage} naming the columns there may be for a column that is not among `known`.
[[nodiscard]] Sheet read_sheet(const std::filesystem::path& path, const std::vector<std::string>& known);

/// What the first line that is no comment names, in lower case; nothing where there is no table.
[[nodiscard]] std::vector<std::string> sheet_columns(const std::filesystem::path& path);

}  // namespace pulsewright::program
