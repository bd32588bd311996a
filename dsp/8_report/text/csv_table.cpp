#include "csv_table.hpp"

#include "valid_text.hpp"

namespace pulsewright {
namespace {

/// Whether a spreadsheet takes the text for a formula. A `-` before letters, digits, `-` and `_` alone begins a code and calls nothing.
bool looks_like_a_formula(std::string_view text) {
  constexpr std::string_view of_codes = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
  if (text.starts_with('-')) return text.find_first_not_of(of_codes) != std::string_view::npos;
  return text.find_first_of("=+@\t\r") == 0;
}

}  // namespace

CsvTable::CsvTable(std::initializer_list<std::string_view> columns, const NumberStyle& style) : style_(style) {
  for (const std::string_view column : columns) text(column);
  if (columns.size() > 0) end_row();
}

CsvTable& CsvTable::text(std::string_view given) {
  std::string value = valid_text(given, Controls::all);
  if (looks_like_a_formula(value)) value.insert(0, 1, '\'');
  const char special[] = {style_.separator, '"', '\n', '\r', '\0'};
  if (value.find_first_of(special) == std::string::npos) {
    cell(value);
    return *this;
  }
  std::string quoted = "\"";
  for (const char c : value) {
    if (c == '"') quoted.push_back('"');
    quoted.push_back(c);
  }
  quoted.push_back('"');
  cell(quoted);
  return *this;
}

CsvTable& CsvTable::number(std::optional<double> value, int decimals) {
  cell(format_number(value, decimals, style_));
  return *this;
}

CsvTable& CsvTable::count(std::optional<std::int64_t> value) {
  cell(value ? std::to_string(*value) : std::string{});
  return *this;
}

void CsvTable::end_row() {
  bytes_.push_back('\n');
  row_begun_ = false;
}

void CsvTable::cell(std::string_view bytes) {
  if (row_begun_) bytes_.push_back(style_.separator);
  row_begun_ = true;
  bytes_.append(bytes);
}

}  // namespace pulsewright
