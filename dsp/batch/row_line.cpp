
#include "pulsewright/batch.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/json.hpp"

namespace pulsewright {
namespace {

/// Calls `visit(key, field)` for every optional number of a row, in one order for both directions.
template <typename Row, typename Visit>
void each_number(Row& row, const Visit& visit) {
  visit("duration_s", row.duration_s);
  visit("readable_percent", row.readable_percent);
  visit("flagged_percent", row.flagged_percent);
  visit("mean_hr_bpm", row.mean_hr_bpm);
  visit("lowest_hr_bpm", row.lowest_hr_bpm);
  visit("peak_hr_bpm", row.peak_hr_bpm);
  visit("mean_nn_ms", row.mean_nn_ms);
  visit("sdnn_ms", row.sdnn_ms);
  visit("rmssd_ms", row.rmssd_ms);
  visit("pnn50_percent", row.pnn50_percent);
  visit("in_target_s", row.in_target_s);
  visit("moderate_or_harder_s", row.moderate_or_harder_s);
}

BatchRow::Status status_of(const std::string& word) {
  for (const BatchRow::Status status : {BatchRow::Status::done, BatchRow::Status::no_value, BatchRow::Status::failed})
    if (word == to_string(status)) return status;
  throw Error(ErrorCode::unreadable, "status '" + word + "' is none of done, no_value, failed");
}

}  // namespace

std::string line_of_row(const BatchRow& row) {
  Json line = {{"file", row.file}, {"status", to_string(row.status)}, {"exit_code", row.exit_code}};
  if (!row.reason.empty()) line["reason"] = row.reason;
  if (!row.sha256.empty()) line["sha256"] = row.sha256;
  if (row.beats_count) line["beats_count"] = *row.beats_count;
  each_number(row, [&line](const char* key, const std::optional<double>& value) {
    if (value) line[key] = *value;
  });
  if (!row.target_method.empty()) line["target_method"] = row.target_method;
  if (!row.resting_source.empty()) line["resting_source"] = row.resting_source;
  return line.dump();
}

BatchRow row_of_line(std::string_view text) {
  const Json line = Json::parse_or_discard(text);
  if (!line.is_object() || !line.contains("file"))
    throw Error(ErrorCode::unreadable, "no row of a batch: " + std::string(text.substr(0, 80)));
  try {
    BatchRow row;
    row.file = line.at("file").get<std::string>();
    row.status = status_of(line.at("status").get<std::string>());
    row.exit_code = line.at("exit_code").get<int>();
    row.reason = line.value("reason", "");
    row.sha256 = line.value("sha256", "");
    if (line.contains("beats_count")) row.beats_count = line.at("beats_count").get<std::int64_t>();
    each_number(row, [&line](const char* key, std::optional<double>& value) {
      if (line.contains(key)) value = line.at(key).get<double>();
    });
    row.target_method = line.value("target_method", "");
    row.resting_source = line.value("resting_source", "");
    return row;
  } catch (const JsonError& error) {
    throw Error(ErrorCode::unreadable, std::string("no row of a batch: ") + error.what());
  }
}

}  // namespace pulsewright
