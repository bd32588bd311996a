#include "sheet_file.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <fstream>
#include <string_view>

#include "pulsewright/error.hpp"

namespace pulsewright::program {
namespace {

std::string trimmed(std::string_view text) {
  constexpr std::string_view blank = " \t\r";
  const std::size_t first = text.find_first_not_of(blank);
  if (first == std::string_view::npos) return {};
  return std::string(text.substr(first, text.find_last_not_of(blank) - first + 1));
}

std::vector<std::string> cells_of(const std::string& line, char separator) {
  std::vector<std::string> cells;
  std::string cell;
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char c = line[i];
    if (quoted && c == '"' && i + 1 < line.size() && line[i + 1] == '"') {
      cell += c;
      ++i;
    } else if (c == '"') {
      quoted = !quoted;
    } else if (c == separator && !quoted) {
      cells.push_back(trimmed(cell));
      cell.clear();
    } else {
      cell += c;
    }
  }
  cells.push_back(trimmed(cell));
  return cells;
}

char separator_of(const std::string& header) {
  for (const char c : {';', '\t'})
    if (header.find(c) != std::string::npos) return c;
  return ',';
}

bool is_passed_over(const std::string& line) { return trimmed(line).empty() || line.front() == '#'; }

std::vector<std::string> names_of(const std::string& header) {
  constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
  std::string_view text = header;
  if (text.starts_with(byte_order_mark)) text.remove_prefix(byte_order_mark.size());
  std::vector<std::string> names = cells_of(std::string(text), separator_of(header));
  for (std::string& name : names)
    for (char& c : name)
      if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return names;
}

std::string list_of(const std::vector<std::string>& words) {
  std::string list;
  for (const std::string& word : words) list += (list.empty() ? "" : ", ") + word;
  return list;
}

}  // namespace

std::string SheetRow::word(const std::string& column) const {
  const auto cell = cells.find(column);
  return cell == cells.end() ? std::string() : cell->second;
}

bool Sheet::has(const std::string& column) const {
  return std::find(columns.begin(), columns.end(), column) != columns.end();
}

std::optional<double> Sheet::number(const SheetRow& row, const std::string& column) const {
  std::string text = row.word(column);
  if (text.empty()) return std::nullopt;
  const std::string shown = text;
  std::replace(text.begin(), text.end(), ',', '.');
  double value = 0;
  const auto end = std::from_chars(text.data(), text.data() + text.size(), value);
  if (end.ec != std::errc{} || end.ptr != text.data() + text.size() || !std::isfinite(value))
    refuse(row, "column " + column + ": value '" + shown + "': is not a number");
  return value;
}

void Sheet::refuse(const SheetRow& row, const std::string& rule) const {
  throw Error(ErrorCode::unreadable, file + ":" + std::to_string(row.line) + ": " + rule);
}

Sheet read_sheet(const std::filesystem::path& path, const std::vector<std::string>& known) {
  Sheet sheet;
  sheet.file = path.string();
  std::ifstream stream(path, std::ios::binary);
  if (!stream) throw Error(ErrorCode::unreadable, sheet.file + ": cannot be opened");
  std::string line;
  std::size_t number = 0;
  char separator = ',';
  while (std::getline(stream, line)) {
    ++number;
    if (is_passed_over(line)) continue;
    if (sheet.columns.empty()) {
      separator = separator_of(line);
      sheet.columns = names_of(line);
      for (const std::string& name : sheet.columns) {
        if (std::find(known.begin(), known.end(), name) == known.end())
          throw Error(ErrorCode::usage, sheet.file + ":" + std::to_string(number) + ": column '" + name +
                                            "' is not known; there may be " + list_of(known));
        if (std::count(sheet.columns.begin(), sheet.columns.end(), name) > 1)
          throw Error(ErrorCode::unreadable,
                      sheet.file + ":" + std::to_string(number) + ": column '" + name + "' occurs twice");
      }
      continue;
    }
    SheetRow row{number, {}};
    const std::vector<std::string> cells = cells_of(line, separator);
    if (cells.size() > sheet.columns.size())
      sheet.refuse(row, "has " + std::to_string(cells.size()) + " cells for " + std::to_string(sheet.columns.size()) +
                            " columns");
    for (std::size_t k = 0; k < cells.size(); ++k)
      if (!cells[k].empty()) row.cells[sheet.columns[k]] = cells[k];
    sheet.rows.push_back(std::move(row));
  }
  if (sheet.rows.empty()) throw Error(ErrorCode::unreadable, sheet.file + ": holds no rows");
  return sheet;
}

bool is_sheet_with(const std::filesystem::path& path, const std::vector<std::string>& columns) {
  std::ifstream stream(path, std::ios::binary);
  constexpr std::size_t longest_header = 4096;
  std::string line(longest_header, '\0');
  while (stream.getline(line.data(), longest_header)) {
    const std::string header(line.data());
    if (is_passed_over(header)) continue;
    const std::vector<std::string> names = names_of(header);
    return std::all_of(columns.begin(), columns.end(), [&names](const std::string& column) {
      return std::find(names.begin(), names.end(), column) != names.end();
    });
  }
  return false;
}

}  // namespace pulsewright::program
