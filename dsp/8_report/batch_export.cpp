#include <algorithm>

#include "csv_table.hpp"
#include "json_document.hpp"
#include "text_page.hpp"

namespace pulsewright {
namespace {

std::optional<double> value_of(const std::optional<BeatsPerMinute>& rate) {
  return rate ? std::optional<double>(rate->value()) : std::nullopt;
}

std::optional<double> as_seconds(const std::optional<std::int64_t>& us) {
  return us ? std::optional<double>(static_cast<double>(*us) / 1e6) : std::nullopt;
}

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

const char* to_string(BatchRow::Status status) {
  switch (status) {
    case BatchRow::Status::done: return "done";
    case BatchRow::Status::no_value: return "no_value";
    case BatchRow::Status::failed: break;
  }
  return "failed";
}

BatchRow batch_row(const std::string& file, const Analysis& analysis) {
  BatchRow row;
  row.file = file;
  row.sha256 = analysis.beats.provenance.sha256;
  row.duration_s = analysis.beats.duration.value();
  row.beats_count = static_cast<std::int64_t>(analysis.beats.accepted().size());
  if (row.beats_count == 0) {
    row.status = BatchRow::Status::no_value;
    row.exit_code = 1;
    row.reason = analysis.beats.warnings.empty() ? "no beats anywhere"
                                                 : "no beats anywhere: " + analysis.beats.warnings.front().message;
  } else if (!analysis.effort.mean_rate) {
    row.status = BatchRow::Status::no_value;
    row.exit_code = 1;
    row.reason = analysis.rates.windows.empty() ? "no heart rate: shorter than one window of " +
                                                      format_number(analysis.rates.options.window.value(), 1) + " s"
                                                : "no heart rate: no window has enough beats that can be trusted";
  }
  row.readable_percent = readable_percent(analysis.beats);
  row.flagged_percent = analysis.intervals.flagged_percent();
  for (const RateWindow& window : analysis.rates.windows) {
    if (!window.rate) continue;
    const double bpm = window.rate->value();
    row.lowest_hr_bpm = std::min(row.lowest_hr_bpm.value_or(bpm), bpm);
  }
  row.mean_hr_bpm = value_of(analysis.effort.mean_rate);
  row.peak_hr_bpm = value_of(analysis.effort.peak_rate);
  row.mean_nn_ms = analysis.variability.mean_nn_ms;
  row.sdnn_ms = analysis.variability.sdnn_ms;
  row.rmssd_ms = analysis.variability.rmssd_ms;
  row.pnn50_percent = analysis.variability.pnn50_percent;
  if (const auto& target = analysis.effort.target) row.target_method = target->from_reserve ? "reserve" : "maximum";
  if (const auto& resting = analysis.effort.resting) row.resting_source = to_string(resting->source);
  // Where nothing was measured there is no effort to state: empty, not zero.
  if (analysis.effort.unmeasured_us >= analysis.effort.duration_us) return row;
  row.in_target_s = as_seconds(analysis.effort.in_target_us);
  if (const auto& us = analysis.effort.category_us)
    row.moderate_or_harder_s = as_seconds((*us)[2] + (*us)[3] + (*us)[4]);  // moderate, vigorous, near-maximal
  return row;
}

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
  return json_document("batch", body, reasons, {}, provenance);
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
  for (const BatchRow& row : rows) {
    if (row.status == BatchRow::Status::failed) continue;
    table.push_back({row.file, format_clock(Seconds{row.duration_s.value_or(0)}),
                     std::to_string(row.beats_count.value_or(0)), format_number(row.readable_percent, 0),
                     whole(row.mean_hr_bpm), whole(row.lowest_hr_bpm), whole(row.peak_hr_bpm),
                     row.rmssd_ms ? format_number(row.rmssd_ms, 1) : "-"});
  }
  page.table(table);
  if (failed > 0) {
    page.blank().heading("Without a result");
    for (const BatchRow& row : rows)
      if (row.exit_code != 0) page.row(row.file, row.reason);
  }
  return page.take();
}

}  // namespace pulsewright
