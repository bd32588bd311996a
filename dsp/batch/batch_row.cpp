#include <algorithm>
#include <new>
#include <utility>

#include "pulsewright/batch.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright {
namespace {

std::optional<double> value_of(const std::optional<BeatsPerMinute>& rate) {
  return rate ? std::optional<double>(rate->value()) : std::nullopt;
}

std::optional<double> as_seconds(const std::optional<std::int64_t>& us) {
  return us ? std::optional<double>(static_cast<double>(*us) / 1e6) : std::nullopt;
}

/// A message that names the record as its row does.
std::string by_row_name(std::string message, const std::string& path, const std::string& name) {
  for (std::size_t at = message.find(path); !path.empty() && at != std::string::npos;
       at = message.find(path, at + name.size()))
    message.replace(at, path.size(), name);
  return message;
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
    row.exit_code = no_value_code;
    row.reason = analysis.beats.warnings.empty() ? "no beats anywhere"
                                                 : "no beats anywhere: " + analysis.beats.warnings.front().message;
  } else if (!analysis.effort.mean_rate) {
    row.status = BatchRow::Status::no_value;
    row.exit_code = no_value_code;
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

BatchRow failed_row(const std::string& file, int exit_code, std::string reason) {
  BatchRow row;
  row.file = file;
  row.status = BatchRow::Status::failed;
  row.exit_code = exit_code;
  // A row is read by people as well: what lists thousands of channels is cut.
  constexpr std::size_t longest_reason = 2000;
  if (reason.size() > longest_reason) reason.replace(longest_reason, std::string::npos, "...");
  row.reason = std::move(reason);
  return row;
}

BatchRow work_on(const Request& request, const std::string& file) {
  try {
    return batch_row(file, analyze_input(request));
  } catch (const Error& error) {
    return failed_row(file, error.code() == ErrorCode::usage ? usage_code : unreadable_code,
                      by_row_name(error.what(), request.input.string(), file));
  } catch (const std::bad_alloc&) {
    return failed_row(file, unreadable_code, file + ": needs more memory than there is for one record");
  } catch (const std::exception& error) {
    return failed_row(file, unreadable_code, error.what());
  }
}

}  // namespace pulsewright
