#include "sheet_file.hpp"

#include <algorithm>
#include <fstream>

#include "pulsewright/error.hpp"
#include "pulsewright/table.hpp"

namespace pulsewright::program {
namespace {

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
  const std::string text = row.word(column);
  if (text.empty()) return std::nullopt;
  Table style;
  style.delimiter = delimiter;
  const std::optional<double> value = style.number(text);
  if (!value) refuse(row, "column " + column + ": value '" + text + "': is not a number");
  return value;
}

void Sheet::refuse(const SheetRow& row, const std::string& rule) const {
  throw Error(ErrorCode::unreadable, file + ":" + std::to_string(row.line) + ": " + rule);
}

Sheet read_sheet(const std::filesystem::path& path, const std::vector<std::string>& known) {
  const Table table = read_table(path);
  Sheet sheet{path.string(), table.delimiter, table.columns, {}};
  for (const std::string& name : sheet.columns)
    if (std::find(known.begin(), known.end(), name) == known.end())
      throw Error(ErrorCode::usage, sheet.file + ":" + std::to_string(table.header_line) + ": column '" + name +
                                        "' is not known; there may be " + list_of(known));
  sheet.rows.reserve(table.rows.size());
  for (const TableRow& row : table.rows) {
    SheetRow& filled = sheet.rows.emplace_back(SheetRow{static_cast<std::size_t>(row.line), {}});
    for (std::size_t k = 0; k < row.cells.size(); ++k)
      if (!row.cells[k].empty()) filled.cells[sheet.columns[k]] = row.cells[k];
  }
  if (sheet.rows.empty()) throw Error(ErrorCode::unreadable, sheet.file + ": holds no rows");
  return sheet;
}

std::vector<std::string> sheet_columns(const std::filesystem::path& path) {
  std::ifstream stream(path, std::ios::binary);
  constexpr std::size_t longest_header = 4096;
  std::string line(longest_header, '\0');
  while (stream.getline(line.data(), longest_header)) {
    try {
      return table_of(std::string_view(line.data()), path.string()).columns;
    } catch (const Error&) {  // a comment or an empty line; or no table, which the next line shows as well
    }
  }
  return {};
}

}  // namespace pulsewright::program
