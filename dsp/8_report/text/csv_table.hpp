/// A CSV table as it is built, cell by cell (RFC 4180, lines ended by a line feed).
#pragma once

#include <cstdint>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>

#include "pulsewright/report.hpp"

namespace pulsewright {

class CsvTable {
 public:
  /// Starts with a header row of `columns`; without any, the caller writes it.
  CsvTable(std::initializer_list<std::string_view> columns, const NumberStyle& style);

  /// A cell of text, quoted where separators, quotes or line ends demand it; bytes that are no UTF-8 become U+FFFD. What a spreadsheet
  /// would take for a formula, text that begins with `=`, `+`, `@`, a tab, a carriage return, or `-` unless it is a code, has an apostrophe before it.
  CsvTable& text(std::string_view given);
  /// A cell with fixed decimals; empty when there is no value.
  CsvTable& number(std::optional<double> value, int decimals);
  /// A cell with a whole number; empty when there is no value.
  CsvTable& count(std::optional<std::int64_t> value);
  void end_row();

  [[nodiscard]] std::string take() { return std::move(bytes_); }

 private:
  void cell(std::string_view bytes);

  NumberStyle style_;
  std::string bytes_;
  bool row_begun_ = false;
};

}  // namespace pulsewright
