#include "pulsewright/training_log.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <chrono>
#include <cmath>
#include <map>
#include <tuple>

#include "pulsewright/table.hpp"

namespace pulsewright {

namespace {

constexpr double us_per_minute = 60e6;

using Days = std::chrono::sys_days;

/// A date `yyyy-mm-dd`; nothing when it is none.
std::optional<Days> date_of(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
  const auto number = [&](std::size_t from, std::size_t length) {
    int value = -1;
    const auto [end, fault] = std::from_chars(text.data() + from, text.data() + from + length, value);
    return fault == std::errc{} && end == text.data() + from + length ? value : -1;
  };
  const int year = number(0, 4), month = number(5, 2), day = number(8, 2);
  if (year < 1 || month < 1 || day < 1) return std::nullopt;
  const std::chrono::year_month_day date{std::chrono::year{year}, std::chrono::month{static_cast<unsigned>(month)},
                                         std::chrono::day{static_cast<unsigned>(day)}};
  if (!date.ok()) return std::nullopt;
  return Days{date};
}

std::string text_of(Days day) {
  const std::chrono::year_month_day date{day};
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()), static_cast<unsigned>(date.month()),
                     static_cast<unsigned>(date.day()));
}

Days monday_of(Days day) { return day - (std::chrono::weekday{day} - std::chrono::Monday); }

std::optional<double> minutes_in(const std::optional<Ranged>& seconds) {
  return seconds ? std::optional{seconds->value / 60.0} : std::nullopt;
}

auto key_of(const LogEntry& entry) { return std::tie(entry.date, entry.code, entry.session); }

/// A week while it is summed up.
struct WeekSums {
  LogWeek week;
  double effort_minutes = 0, weighted_effort = 0;
};

void add(std::optional<double>& sum, const std::optional<double>& more) {
  if (more) sum = sum.value_or(0.0) + *more;
}

void take_up(WeekSums& sums, const LogEntry& entry) {
  LogWeek& week = sums.week;
  ++week.sessions;
  week.minutes += entry.minutes;
  add(week.moderate_minutes, entry.moderate_minutes);
  add(week.weighted_minutes, entry.weighted_minutes);
  if (entry.mean_reserve_percent) {
    sums.effort_minutes += entry.measured_minutes;
    sums.weighted_effort += entry.measured_minutes * *entry.mean_reserve_percent;
  }
  const std::string listed = ", " + week.activities + ", ";
  if (!entry.activity.empty() && listed.find(", " + entry.activity + ", ") == std::string::npos)
    week.activities += (week.activities.empty() ? "" : ", ") + entry.activity;
}

std::optional<double> change(std::optional<double> now, std::optional<double> before) {
  if (!now || !before || !(*before > 0)) return std::nullopt;
  return 100.0 * (*now / *before - 1.0);
}

}  // namespace

LogEntry log_entry(const std::string& date, const std::string& session_name, const SessionEffort& session) {
  if (!date_of(date)) throw Error{ErrorCode::usage, fmt::format("'{}' is no date; write it as 2026-03-01", date)};
  const Effort& effort = session.effort;
  LogEntry entry;
  entry.date = date;
  entry.code = effort.person.code;
  entry.session = session_name;
  entry.activity = session.options.activity;
  entry.minutes = static_cast<double>(effort.duration_us) / us_per_minute;
  entry.measured_minutes = static_cast<double>(effort.duration_us - effort.unmeasured_us) / us_per_minute;
  entry.mean_reserve_percent = effort.mean_reserve_percent;
  entry.in_target_minutes = minutes_in(session.in_target_s);
  entry.moderate_minutes = minutes_in(session.moderate_or_harder_s);
  if (session.load) {
    entry.impulse_men = session.load->impulse_men;
    entry.impulse_women = session.load->impulse_women;
    entry.weighted_minutes = session.load->weighted_minutes;
  }
  entry.exertion = session.options.exertion;
  return entry;
}

std::vector<LogEntry> read_log(const std::filesystem::path& path) {
  std::vector<LogEntry> log;
  std::error_code ignored;
  if (!std::filesystem::exists(path, ignored)) return log;
  const Table table = read_table(path);
  TableFaults faults(table.file);
  for (const char* needed : {"date", "code", "session", "activity", "duration_min", "measured_min"})
    if (!table.column(needed)) faults.add(table.header_line, fmt::format("a log has a column {}", needed));
  faults.refuse();
  for (const TableRow& row : table.rows) {
    LogEntry entry;
    const auto number = [&](const char* column) -> std::optional<double> {
      const std::string_view cell = table.cell(row, column);
      if (cell.empty()) return std::nullopt;
      const auto value = table.number(cell);
      if (!value) faults.add(row.line, column, cell, "is a number, or empty");
      return value;
    };
    entry.date = table.cell(row, "date");
    if (!date_of(entry.date)) faults.add(row.line, "date", entry.date, "is a date as 2026-03-01");
    entry.code = table.cell(row, "code");
    entry.session = table.cell(row, "session");
    entry.activity = table.cell(row, "activity");
    entry.minutes = number("duration_min").value_or(0.0);
    entry.measured_minutes = number("measured_min").value_or(0.0);
    entry.mean_reserve_percent = number("mean_reserve_percent");
    entry.in_target_minutes = number("in_target_min");
    entry.moderate_minutes = number("moderate_or_harder_min");
    entry.impulse_men = number("impulse_men");
    entry.impulse_women = number("impulse_women");
    entry.weighted_minutes = number("weighted_min");
    if (const auto exertion = number("exertion")) entry.exertion = static_cast<int>(*exertion);
    log.push_back(std::move(entry));
  }
  faults.refuse();
  return log;
}

bool add_to_log(std::vector<LogEntry>& log, const LogEntry& entry) {
  const auto same = [&](const LogEntry& other) { return key_of(other) == key_of(entry); };
  const auto found = std::find_if(log.begin(), log.end(), same);
  const bool replaced = found != log.end();
  if (replaced)
    *found = entry;
  else
    log.push_back(entry);
  std::stable_sort(log.begin(), log.end(), [](const LogEntry& a, const LogEntry& b) { return key_of(a) < key_of(b); });
  return replaced;
}

std::vector<LogWeek> weeks_of(const std::vector<LogEntry>& log) {
  std::map<std::string, std::map<Days, WeekSums>> people;
  for (const LogEntry& entry : log)
    if (const auto day = date_of(entry.date)) take_up(people[entry.code][monday_of(*day)], entry);
  std::vector<LogWeek> weeks;
  for (const auto& [code, of_person] : people) {
    std::optional<LogWeek> before;
    for (Days monday = of_person.begin()->first; monday <= of_person.rbegin()->first; monday += std::chrono::days{7}) {
      const auto found = of_person.find(monday);
      LogWeek week = found == of_person.end() ? LogWeek{} : found->second.week;
      week.code = code;
      week.monday = text_of(monday);
      if (found != of_person.end() && found->second.effort_minutes > 0)
        week.mean_reserve_percent = found->second.weighted_effort / found->second.effort_minutes;
      if (before) {
        week.minutes_change_percent = change(week.minutes, before->minutes);
        week.weighted_change_percent = change(week.weighted_minutes, before->weighted_minutes);
      }
      weeks.push_back(week);
      before = week;
    }
  }
  return weeks;
}

}  // namespace pulsewright
