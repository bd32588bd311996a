#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "pulsewright/intensity.hpp"
#include "pulsewright/roster.hpp"
#include "pulsewright/table.hpp"
#include "roster_fields.hpp"

namespace pulsewright {

namespace {

constexpr double seconds_of_day = 86400.0;

struct PerformanceColumn {
  const char* name;
  bool more_is_better;
};
constexpr std::array performance_columns{PerformanceColumn{"laps", true}, PerformanceColumn{"distance_m", true},
                                         PerformanceColumn{"score", true}, PerformanceColumn{"place", false},
                                         PerformanceColumn{"time_s", false}};
constexpr std::array known_columns{"code",        "file",     "channel",  "from", "to",
                                   "file_begins", "activity", "exertion", "marks"};

PerformanceMeasure performance_of(const Table& table, TableFaults& faults) {
  PerformanceMeasure measure;
  for (const PerformanceColumn& column : performance_columns) {
    if (!table.column(column.name)) continue;
    if (!measure.name.empty())
      faults.add(table.header_line,
                 fmt::format("has both {} and {}; one measure of performance can be set beside effort", measure.name,
                             column.name));
    measure = {column.name, column.more_is_better};
  }
  return measure;
}

/// One end of a stretch: seconds, or a time of day.
void read_end(const Table& table, const TableRow& row, const char* column, std::optional<Seconds>& seconds,
              std::optional<double>& time_of_day, TableFaults& faults) {
  const std::string_view cell = table.cell(row, column);
  if (cell.empty()) return;
  if (const auto number = table.number(cell); number && *number >= 0)
    seconds = Seconds{*number};
  else if (const auto clock = time_of_day_in(cell))
    time_of_day = clock;
  else
    faults.add(row.line, column, cell, "is seconds from the start of the file, or a time of day as 10:05:30");
}

SheetEntry entry_of(const Table& table, const TableRow& row, const std::filesystem::path& folder,
                    const PerformanceMeasure& performance, TableFaults& faults) {
  SheetEntry entry;
  entry.line = row.line;
  entry.code = table.cell(row, "code");
  if (const std::string rule = fault_of_code(entry.code); !rule.empty()) faults.add(row.line, "code", entry.code, rule);
  entry.file_name = table.cell(row, "file");
  if (entry.file_name.empty()) faults.add(row.line, "file", "", "names the recording of this person");
  entry.file = folder / entry.file_name;
  entry.channel = table.cell(row, "channel");
  read_end(table, row, "from", entry.from, entry.from_time_of_day_s, faults);
  read_end(table, row, "to", entry.to, entry.to_time_of_day_s, faults);
  if (entry.from && entry.to && !(*entry.from < *entry.to))
    faults.add(row.line, "to", table.cell(row, "to"), "the stretch ends after it begins");
  if (const std::string_view cell = table.cell(row, "file_begins"); !cell.empty()) {
    entry.file_begins_s = time_of_day_in(cell);
    if (!entry.file_begins_s) faults.add(row.line, "file_begins", cell, "is a time of day as 10:00:00");
  }
  entry.activity = table.cell(row, "activity");
  if (const std::string_view cell = table.cell(row, "exertion"); !cell.empty()) {
    const auto value = table.number(cell);
    if (value && *value == std::floor(*value) && least_exertion <= *value && *value <= most_exertion)
      entry.exertion = static_cast<int>(*value);
    else
      faults.add(row.line, "exertion", cell, "perceived exertion is a whole number from 6 to 20");
  }
  if (const std::string_view cell = table.cell(row, "marks"); !cell.empty()) entry.marks = folder / std::string{cell};
  if (const std::string_view cell = table.cell(row, performance.name); !performance.name.empty() && !cell.empty()) {
    entry.performance = table.number(cell);
    if (!entry.performance || *entry.performance < 0)
      faults.add(row.line, performance.name, cell, "is a number of 0 or more, or empty");
  }
  return entry;
}

/// The time of day in an ISO date and time, or a bare time.
std::optional<double> time_of_day_of_clock(const std::optional<std::string>& clock) {
  if (!clock) return std::nullopt;
  const std::size_t mark = clock->find_first_of("T ");
  std::string time = mark == std::string::npos ? *clock : clock->substr(mark + 1);
  time = time.substr(0, time.find_first_of("Z+"));
  return time_of_day_in(time);
}

}  // namespace

SessionSheet read_session_sheet(const std::filesystem::path& path) {
  const Table table = read_table(path);
  TableFaults faults(table.file);
  SessionSheet sheet;
  for (const char* needed : {"code", "file"})
    if (!table.column(needed)) faults.add(table.header_line, fmt::format("a session sheet has a column {}", needed));
  sheet.performance = performance_of(table, faults);
  faults.refuse();
  for (const std::string& name : table.columns) {
    const bool known =
        name.empty() || name == sheet.performance.name ||
        std::any_of(known_columns.begin(), known_columns.end(), [&](const char* k) { return name == k; });
    if (!known)
      sheet.warnings.push_back(
          {"unknown_column", fmt::format("The column '{}' of the session sheet is not known and left out.", name)});
  }
  const std::filesystem::path folder = path.parent_path();
  for (const TableRow& row : table.rows)
    sheet.entries.push_back(entry_of(table, row, folder, sheet.performance, faults));
  if (table.rows.empty()) faults.add(table.header_line, "no session stands below the columns");
  faults.refuse();
  sheet.provenance.input = path.filename().string();
  sheet.provenance.format = "session-sheet";
  sheet.provenance.sha256 = table.sha256;
  sheet.provenance.version = version();
  return sheet;
}

std::optional<double> begins_at(const SheetEntry& entry, const std::optional<std::string>& clock_start) {
  return entry.file_begins_s ? entry.file_begins_s : time_of_day_of_clock(clock_start);
}

OpenSpan stretch_of(const SheetEntry& entry, const std::optional<std::string>& clock_start) {
  const std::optional<double> begins = begins_at(entry, clock_start);
  const auto place = [&](const std::optional<Seconds>& seconds,
                         const std::optional<double>& time_of_day) -> std::optional<Seconds> {
    if (!time_of_day) return seconds;
    if (!begins)
      throw Error{
          ErrorCode::unreadable,
          fmt::format(
              "line {} of the session sheet gives a time of day, and nothing says at which {} begins: add a column "
              "file_begins",
              entry.line, entry.file_name)};
    double since = *time_of_day - *begins;
    if (since < 0) since += seconds_of_day;  // past midnight
    return Seconds{since};
  };
  OpenSpan span{place(entry.from, entry.from_time_of_day_s), place(entry.to, entry.to_time_of_day_s)};
  if (span.start && span.end && !(*span.start < *span.end))
    throw Error{ErrorCode::unreadable,
                fmt::format("line {} of the session sheet: the stretch ends before it begins", entry.line)};
  return span;
}

}  // namespace pulsewright
