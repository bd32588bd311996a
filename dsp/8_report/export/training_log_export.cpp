#include "8_report/text/csv_table.hpp"
#include "effort_parts.hpp"
#include "pulsewright/effort_report.hpp"

namespace pulsewright {

namespace {

std::string minutes(const std::optional<double>& value) { return value ? format_number(value, 0) : "-"; }

std::string signed_percent(const std::optional<double>& value) {
  if (!value) return "";
  std::string text = format_number(value, 0) + " %";
  if (*value > 0) text.insert(text.begin(), '+');
  return text;
}

}  // namespace

std::string log_csv(const std::vector<LogEntry>& log) {
  CsvTable table(
      {"date", "code", "session", "activity", "duration_min", "measured_min", "mean_reserve_percent", "in_target_min",
       "moderate_or_harder_min", "impulse_men", "impulse_women", "weighted_min", "exertion"},
      NumberStyle{});
  for (const LogEntry& entry : log) {
    table.text(entry.date).text(entry.code).text(entry.session).text(entry.activity);
    table.number(entry.minutes, 3).number(entry.measured_minutes, 3).number(entry.mean_reserve_percent, 2);
    table.number(entry.in_target_minutes, 3).number(entry.moderate_minutes, 3);
    table.number(entry.impulse_men, 2).number(entry.impulse_women, 2).number(entry.weighted_minutes, 2);
    table.count(entry.exertion ? std::optional<std::int64_t>(*entry.exertion) : std::nullopt).end_row();
  }
  return table.take();
}

std::string weeks_csv(const std::vector<LogWeek>& weeks, const NumberStyle& style) {
  CsvTable table({"code", "monday", "sessions_count", "mean_reserve_percent", "duration_min", "activities",
                  "moderate_or_harder_min", "weighted_min", "duration_change_percent", "weighted_change_percent"},
                 style);
  for (const LogWeek& week : weeks) {
    table.text(week.code)
        .text(week.monday)
        .count(week.sessions)
        .number(week.mean_reserve_percent, 2)
        .number(week.minutes, 3);
    table.text(week.activities).number(week.moderate_minutes, 3).number(week.weighted_minutes, 2);
    table.number(week.minutes_change_percent, 1).number(week.weighted_change_percent, 1).end_row();
  }
  return table.take();
}

std::string weeks_json(const std::vector<LogWeek>& weeks, const Provenance& provenance) {
  Reasons reasons;
  Json body = Json::object();
  body["weeks"] = Json::array();
  for (const LogWeek& week : weeks) {
    Json entry = Json::object();
    entry["code"] = week.code;
    entry["monday"] = week.monday;
    entry["sessions_count"] = week.sessions;
    static constexpr const char* unknown = "no session of that week has it";
    static constexpr const char* no_before = "the week before has none to compare with";
    put(entry, reasons, "mean_reserve_percent", week.mean_reserve_percent, 2, unknown);
    entry["duration_min"] = json_number(week.minutes, 3);
    entry["activities"] = week.activities;
    put(entry, reasons, "moderate_or_harder_min", week.moderate_minutes, 3, unknown);
    put(entry, reasons, "weighted_min", week.weighted_minutes, 2, unknown);
    put(entry, reasons, "duration_change_percent", week.minutes_change_percent, 1, no_before);
    put(entry, reasons, "weighted_change_percent", week.weighted_change_percent, 1, no_before);
    body["weeks"].push_back(std::move(entry));
  }
  return json_document("training_weeks", body, reasons, {}, provenance);
}

std::string weeks_text(const std::vector<LogWeek>& weeks) {
  TextPage page;
  page.heading("Week by week: frequency, intensity, time, type").blank();
  std::vector<std::vector<std::string>> rows{{"code", "week from", "sessions", "mean effort", "minutes", "change",
                                              "moderate+ min", "load min", "change", "activities"}};
  for (const LogWeek& week : weeks)
    rows.push_back({week.code, week.monday, std::to_string(week.sessions),
                    week.mean_reserve_percent ? format_number(week.mean_reserve_percent, 0) + " %" : "-",
                    format_number(week.minutes, 0), signed_percent(week.minutes_change_percent),
                    minutes(week.moderate_minutes), minutes(week.weighted_minutes),
                    signed_percent(week.weighted_change_percent), week.activities});
  page.table(rows).blank();
  page.paragraph(
      "Mean effort is per cent of reserve over the measured time of the week; load is weighted minutes (tenths of the "
      "maximum from 50 % up count 1 "
      "to 5); a change is against the week before. Whoever has just begun does better with small steps.");
  return page.take();
}

}  // namespace pulsewright
