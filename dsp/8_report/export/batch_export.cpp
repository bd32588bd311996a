#include <algorithm>

#include "8_report/text/csv_table.hpp"
#include "8_report/text/json_document.hpp"
#include "8_report/text/text_page.hpp"

namespace pulsewright {
namespace {

/// A measure of a row: key, value, decimals.
struct Measure {
  const char* key;
  std::optional<double> value;
  int decimals;
};

std::vector<Measure> measures(const BatchRow& row) {
  return {{"readable_percent", row.readable_percent, 2},
          {"flagged_percent", row.flagged_percent, 2},
          {"mean_hr_bpm", row.mean_hr_bpm, 2},
          {"lowest_hr_bpm", row.lowest_hr_bpm, 2},
          {"peak_hr_bpm", row.peak_hr_bpm, 2},
          {"mean_nn_ms", row.mean_nn_ms, 3},
          {"sdnn_ms", row.sdnn_ms, 3},
          {"rmssd_ms", row.rmssd_ms, 3},
          {"pnn50_percent", row.pnn50_percent, 2},
          {"in_target_s", row.in_target_s, 6},
          {"moderate_or_harder_s", row.moderate_or_harder_s, 6}};
}

}  // namespace

namespace {

/// Names of measures for people, with their unit and decimals.
struct MeasureName {
  std::string_view key;
  const char* name;
  int decimals;
};

constexpr MeasureName measure_names[] = {{"duration_s", "length, s", 0},
                                         {"readable_percent", "readable, %", 0},
                                         {"flagged_percent", "intervals flagged, %", 1},
                                         {"mean_hr_bpm", "mean rate, beats/min", 0},
                                         {"lowest_hr_bpm", "lowest rate, beats/min", 0},
                                         {"peak_hr_bpm", "peak rate, beats/min", 0},
                                         {"mean_nn_ms", "mean interval, ms", 0},
                                         {"sdnn_ms", "SDNN, ms", 1},
                                         {"rmssd_ms", "RMSSD, ms", 1},
                                         {"pnn50_percent", "pNN50, %", 1},
                                         {"in_target_s", "in target, s", 0},
                                         {"moderate_or_harder_s", "moderate or harder, s", 0}};

/// A page lists single records only up to this many; more of them nobody reads in a terminal.
constexpr std::size_t most_listed = 60;
/// Names that an outlier line shows at most.
constexpr std::size_t most_named = 6;

std::string names_of(const std::vector<std::size_t>& positions, std::span<const BatchRow> rows) {
  std::string names;
  for (std::size_t i = 0; i < positions.size() && i < most_named; ++i)
    names += (names.empty() ? "" : ", ") + rows[positions[i]].file;
  if (positions.size() > most_named) names += " and " + std::to_string(positions.size() - most_named) + " more";
  return names;
}

void add_distributions(TextPage& page, const BatchSummary& summary, std::span<const BatchRow> rows) {
  page.blank().heading("Distribution over the records that have a value");
  std::vector<std::vector<std::string>> table{
      {"measure", "records", "lowest", "lower quartile", "median", "upper quartile", "highest"}};
  for (const MeasureSummary& measure : summary.measures)
    for (const MeasureName& name : measure_names) {
      if (name.key != measure.key) continue;
      std::vector<std::string> cells{name.name, std::to_string(measure.count)};
      for (const double value :
           {measure.lowest, measure.lower_quartile, measure.median, measure.upper_quartile, measure.highest})
        cells.push_back(format_number(value, name.decimals));
      table.push_back(std::move(cells));
    }
  page.table(table);
  bool any = false;
  for (const MeasureSummary& measure : summary.measures) {
    if (measure.outside.empty()) continue;
    if (!any) page.blank().heading("Far from the others: more than 1.5 quartile distances outside the quartiles");
    any = true;
    for (const MeasureName& name : measure_names)
      if (name.key == measure.key) page.row(name.name, names_of(measure.outside, rows));
  }
  if (summary.repeated.empty()) return;
  page.blank().heading("The same content under several names");
  for (const std::vector<std::size_t>& group : summary.repeated) page.row("", names_of(group, rows));
}

Json summary_object(const BatchSummary& summary, std::span<const BatchRow> rows) {
  const auto files = [&rows](const std::vector<std::size_t>& positions) {
    Json names = Json::array();
    for (const std::size_t i : positions) names.push_back(rows[i].file);
    return names;
  };
  Json object = {{"done_count", summary.done}, {"no_value_count", summary.no_value}, {"failed_count", summary.failed}};
  object["recorded_s"] = json_number(summary.recorded_s, 6);
  object["measures"] = Json::array();
  for (const MeasureSummary& measure : summary.measures) {
    constexpr int decimals = 3;
    object["measures"].push_back({{"measure", measure.key},
                                  {"records_count", measure.count},
                                  {"lowest", json_number(measure.lowest, decimals)},
                                  {"lower_quartile", json_number(measure.lower_quartile, decimals)},
                                  {"median", json_number(measure.median, decimals)},
                                  {"upper_quartile", json_number(measure.upper_quartile, decimals)},
                                  {"highest", json_number(measure.highest, decimals)},
                                  {"outside", files(measure.outside)}});
  }
  object["repeated_content"] = Json::array();
  for (const std::vector<std::size_t>& group : summary.repeated) object["repeated_content"].push_back(files(group));
  return object;
}

}  // namespace

std::string batch_csv(std::span<const BatchRow> rows, const NumberStyle& style) {
  CsvTable table({"file", "status", "exit_code", "reason", "duration_s", "beats_count", "readable_percent",
                  "flagged_percent", "mean_hr_bpm", "lowest_hr_bpm", "peak_hr_bpm", "mean_nn_ms", "sdnn_ms", "rmssd_ms",
                  "pnn50_percent", "in_target_s", "moderate_or_harder_s", "target_method", "resting_source"},
                 style);
  for (const BatchRow& row : rows) {
    table.text(row.file).text(to_string(row.status)).count(row.exit_code).text(row.reason);
    table.number(row.duration_s, 6).count(row.beats_count);
    for (const Measure& measure : measures(row)) table.number(measure.value, measure.decimals);
    table.text(row.target_method).text(row.resting_source).end_row();
  }
  return table.take();
}

std::string batch_json(std::span<const BatchRow> rows, const Provenance& provenance) {
  Reasons reasons;
  Json body = Json::object();
  body["records_count"] = static_cast<std::int64_t>(rows.size());
  body["failed_count"] =
      std::count_if(rows.begin(), rows.end(), [](const BatchRow& row) { return row.exit_code != 0; });
  body["records"] = Json::array();
  for (const BatchRow& row : rows) {
    static constexpr const char* why =
        "the record failed, has too little readable time, or the person's age or maximum is not stated";
    Json object = {
        {"file", row.file}, {"status", to_string(row.status)}, {"exit_code", row.exit_code}, {"reason", row.reason}};
    object["sha256"] = nullptr;
    if (row.sha256.empty())
      reasons.explain("sha256", "there was no single input file to hash, or it could not be read");
    else
      object["sha256"] = row.sha256;
    put(object, reasons, "duration_s", row.duration_s, 6, why);
    object["beats_count"] = nullptr;
    if (row.beats_count)
      object["beats_count"] = *row.beats_count;
    else
      reasons.explain("beats_count", why);
    for (const Measure& measure : measures(row))
      put(object, reasons, measure.key, measure.value, measure.decimals, why);
    put_word(object, reasons, "target_method", row.target_method.empty() ? nullptr : row.target_method.c_str(), why);
    put_word(object, reasons, "resting_source", row.resting_source.empty() ? nullptr : row.resting_source.c_str(),
             "the record failed, or no resting rate was given and no minute of it could stand in for one");
    body["records"].push_back(std::move(object));
  }
  body["summary"] = summary_object(summarize(rows), rows);
  return json_document("batch", body, reasons, {}, provenance);
}

std::string batch_lines(std::span<const BatchRow> rows) {
  std::string lines;
  for (const BatchRow& row : rows) lines += line_of_row(row) + "\n";
  return lines;
}

std::string batch_text(std::span<const BatchRow> rows) {
  TextPage page;
  const auto failed = std::count_if(rows.begin(), rows.end(), [](const BatchRow& row) { return row.exit_code != 0; });
  page.heading(counted(static_cast<long long>(rows.size()), "record", "records") + ", " + std::to_string(failed) +
               " without a result");
  std::vector<std::vector<std::string>> table{
      {"record", "length", "beats", "readable", "mean", "lowest", "peak", "RMSSD"},
      {"", "m:ss", "", "%", "beats/min", "beats/min", "beats/min", "ms"}};
  const auto whole = [](const std::optional<double>& bpm) {
    return bpm ? std::to_string(whole_beats(BeatsPerMinute{*bpm})) : std::string("-");
  };
  for (const BatchRow& row : rows.size() > most_listed ? rows.first(0) : rows) {
    if (row.status == BatchRow::Status::failed) continue;
    table.push_back({row.file, format_clock(Seconds{row.duration_s.value_or(0)}),
                     std::to_string(row.beats_count.value_or(0)), format_number(row.readable_percent, 0),
                     whole(row.mean_hr_bpm), whole(row.lowest_hr_bpm), whole(row.peak_hr_bpm),
                     row.rmssd_ms ? format_number(row.rmssd_ms, 1) : "-"});
  }
  if (table.size() > 2) page.table(table);
  if (rows.size() > 1) add_distributions(page, summarize(rows), rows);
  if (failed > 0) {
    page.blank().heading("Without a result");
    for (const BatchRow& row : rows)
      if (row.exit_code != 0) page.row(row.file, row.reason);
  }
  return page.take();
}

}  // namespace pulsewright
