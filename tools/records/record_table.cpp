#include "record_table.hpp"

#include <algorithm>
#include <array>
#include <map>

#include "options/input_options.hpp"
#include "pulsewright/batch.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/json.hpp"
#include "pulsewright/table.hpp"
#include "sheet_file.hpp"

namespace pulsewright::program {
namespace fs = std::filesystem;
namespace {

/// Columns whose cells are words, and those with several names in a cell; all others hold numbers.
constexpr std::array<std::string_view, 7> word_columns{"kind", "input", "unit", "code", "sex", "exercise", "equation"};
constexpr std::array<std::string_view, 2> name_columns{"channels", "motion"};

template <std::size_t count>
bool is_one_of(const std::array<std::string_view, count>& names, const std::string& name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

Json names_in(std::string_view cell) {
  Json names = Json::array();
  while (!cell.empty()) {
    const std::size_t end = std::min(cell.find('|'), cell.size());
    names.push_back(std::string(cell.substr(0, end)));
    cell.remove_prefix(std::min(end + 1, cell.size()));
  }
  return names;
}

/// A cell as `with_options` wants it; what is no number stays text, so that the refusal shows it.
Json value_of(const Table& table, const std::string& column, const std::string& cell) {
  if (is_one_of(word_columns, column)) return cell;
  if (is_one_of(name_columns, column)) return names_in(cell);
  if (column == "streaming" && (cell == "true" || cell == "false")) return cell == "true";
  const std::optional<double> number = table.number(cell);
  return number ? Json(*number) : Json(cell);
}

}  // namespace

bool is_record_table(const fs::path& path) {
  const std::vector<std::string> columns = sheet_columns(path);
  return std::find(columns.begin(), columns.end(), "file") != columns.end();
}

std::vector<ListedRecord> records_of_table(const fs::path& path) {
  const Table table = read_table(path);
  TableFaults faults(path.string());
  std::map<std::string, int> times;
  for (const TableRow& row : table.rows) ++times[std::string(table.cell(row, "file"))];
  std::vector<ListedRecord> records;
  records.reserve(table.rows.size());
  for (const TableRow& row : table.rows) {
    const std::string file(table.cell(row, "file"));
    if (file.empty()) faults.add(row.line, "a row names its file");
    Json options = Json::object();
    for (std::size_t k = 0; k < table.columns.size(); ++k)
      if (table.columns[k] != "file" && !row.cells[k].empty())
        options[table.columns[k]] = value_of(table, table.columns[k], row.cells[k]);
    const std::string text = settings_text(options);
    try {
      static_cast<void>(with_options(Request{}, text));
    } catch (const Error& error) {
      faults.add(row.line, error.what());
    }
    ListedRecord record = listed(path.parent_path(), file);
    if (times[file] > 1) record.name += "#" + std::to_string(row.line);
    record.options = options.empty() ? std::string{} : text;
    records.push_back(std::move(record));
  }
  faults.refuse();
  if (std::none_of(records.begin(), records.end(), [](const ListedRecord& r) { return is_there(r.path); }))
    throw Error(ErrorCode::unreadable,
                path.string() + ": none of the files in its column file is there; paths are relative to the table");
  return records;
}

}  // namespace pulsewright::program
