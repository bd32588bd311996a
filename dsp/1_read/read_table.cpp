#include <fmt/format.h>

#include <algorithm>

#include "clock_text.hpp"
#include "hash.hpp"
#include "mapped_file.hpp"
#include "message.hpp"
#include "number_text.hpp"
#include "pulsewright/table.hpp"
#include "text_cell.hpp"

namespace pulsewright {

namespace {

using namespace reading;

/// The delimiter of a header: whichever of semicolon, tab and comma it has, in this order.
char delimiter_of(std::string_view header) {
  for (const char mark : {';', '\t'})
    if (header.find(mark) != std::string_view::npos) return mark;
  return ',';
}

bool has_open_quote(std::string_view line) { return std::count(line.begin(), line.end(), '"') % 2 != 0; }

}  // namespace

std::optional<std::size_t> Table::column(std::string_view name) const {
  const auto found = std::find(columns.begin(), columns.end(), name);
  if (found == columns.end()) return std::nullopt;
  return static_cast<std::size_t>(found - columns.begin());
}

std::string_view Table::cell(const TableRow& row, std::string_view name) const {
  const auto position = column(name);
  return position ? std::string_view{row.cells[*position]} : std::string_view{};
}

std::optional<double> Table::number(std::string_view cell) const { return number_in(cell, delimiter != ','); }

Table table_of(std::string_view text, const std::string& file) {
  Table table;
  table.file = file;
  std::string_view rest = text;
  if (rest.starts_with("\xef\xbb\xbf")) rest.remove_prefix(3);
  if (rest.find('\0') != std::string_view::npos) refuse({file}, "holds bytes that are no text; a table is expected");
  std::int64_t number = 0;
  while (!rest.empty()) {
    const std::string_view line = take_line(rest);
    ++number;
    if (trimmed(line).empty() || is_comment(line)) continue;
    const Place place{file, number};
    if (has_open_quote(line)) refuse(place, line, "a quote is opened and not closed on the line");
    if (table.columns.empty()) {
      table.header_line = number;
      table.delimiter = delimiter_of(line);
      for (const Cell& cell : cells_of(line, table.delimiter)) {
        std::string name = lower_case(cell.text);
        if (!name.empty() && table.column(name))
          refuse(place, name, "names two columns; each column has a name of its own");
        table.columns.push_back(std::move(name));
      }
      continue;
    }
    TableRow row{number, {}};
    for (const Cell& cell : cells_of(line, table.delimiter)) row.cells.emplace_back(cell.text);
    while (row.cells.size() > table.columns.size() && row.cells.back().empty()) row.cells.pop_back();
    if (row.cells.size() > table.columns.size())
      refuse(place, line,
             fmt::format("has {} cells below {} columns; put text with a separator in quotes", row.cells.size(),
                         table.columns.size()));
    const bool empty = std::all_of(row.cells.begin(), row.cells.end(), [](const std::string& c) { return c.empty(); });
    if (empty) continue;  // what a spreadsheet leaves of a deleted row
    row.cells.resize(table.columns.size());
    table.rows.push_back(std::move(row));
  }
  if (table.columns.empty()) refuse({file}, "holds no line that names columns");
  return table;
}

Table read_table(const std::filesystem::path& path) {
  const MappedFile file{path};
  Table table = table_of(file.text(), file.name());
  table.sha256 = sha256_of(file.bytes());
  return table;
}

void TableFaults::add(std::int64_t line, std::string_view column, std::string_view value, std::string_view rule) {
  lines_.push_back(message_at({file_, line, std::nullopt, std::string{column}}, value, rule));
}

void TableFaults::add(std::int64_t line, std::string_view rule) { lines_.push_back(message_at({file_, line}, rule)); }

void TableFaults::refuse() const {
  if (lines_.empty()) return;
  constexpr std::size_t most_told = 20;
  std::string message;
  for (std::size_t i = 0; i < std::min(lines_.size(), most_told); ++i) message += (i > 0 ? "\n" : "") + lines_[i];
  if (lines_.size() > most_told) message += fmt::format("\nand {} more", lines_.size() - most_told);
  throw Error{ErrorCode::unreadable, message};
}

std::optional<double> time_of_day_in(std::string_view text) {
  std::string with_seconds{trimmed(text)};
  if (std::count(with_seconds.begin(), with_seconds.end(), ':') == 1) with_seconds += ":00";
  const std::optional<ClockTime> clock = parse_clock(with_seconds);
  if (!clock || !clock->has_time || !clock->of_day) return std::nullopt;
  return clock->second;
}

}  // namespace pulsewright
