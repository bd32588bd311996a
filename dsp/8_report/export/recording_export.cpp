#include <algorithm>
#include <cmath>

#include "8_report/text/csv_table.hpp"
#include "8_report/text/json_document.hpp"
#include "8_report/text/text_page.hpp"

namespace pulsewright {
namespace {

/// What can be said of a channel at a glance.
struct ChannelSummary {
  std::int64_t missing = 0;
  std::optional<double> lowest, highest;
};

ChannelSummary summarise(const Channel& channel) {
  ChannelSummary summary;
  for (const float sample : channel.samples) {
    if (std::isnan(sample)) {
      ++summary.missing;
      continue;
    }
    const double value = static_cast<double>(sample);
    summary.lowest = std::min(summary.lowest.value_or(value), value);
    summary.highest = std::max(summary.highest.value_or(value), value);
  }
  return summary;
}

constexpr const char* no_samples = "the channel has no samples";

}  // namespace

std::string recording_csv(const Recording& recording, const NumberStyle& style) {
  CsvTable table(
      {"channel", "name", "kind", "unit", "rate_hz", "start_s", "samples_count", "missing_count", "lowest", "highest"},
      style);
  std::int64_t position = 0;
  for (const Channel& channel : recording.channels) {
    const ChannelSummary summary = summarise(channel);
    table.count(++position).text(channel.name).text(to_string(channel.kind)).text(channel.unit);
    table.number(channel.rate.value(), 6).number(channel.start.value(), 6);
    table.count(static_cast<std::int64_t>(channel.samples.size())).count(summary.missing);
    table.number(summary.lowest, 6).number(summary.highest, 6).end_row();
  }
  return table.take();
}

std::string recording_json(const Recording& recording) {
  Reasons reasons;
  Json body = Json::object();
  body["duration_s"] = json_number(recording.duration.value(), 6);
  body["clock_start"] = nullptr;
  if (recording.clock_start)
    body["clock_start"] = *recording.clock_start;
  else
    reasons.explain("clock_start", "the input does not say when it was recorded");
  body["channels"] = Json::array();
  std::int64_t position = 0;
  for (const Channel& channel : recording.channels) {
    const ChannelSummary summary = summarise(channel);
    Json row = {{"channel", ++position},
                {"name", channel.name},
                {"kind", to_string(channel.kind)},
                {"unit", channel.unit},
                {"rate_hz", json_number(channel.rate.value(), 6)},
                {"start_s", json_number(channel.start.value(), 6)},
                {"samples_count", static_cast<std::int64_t>(channel.samples.size())},
                {"missing_count", summary.missing},
                {"uniform", channel.times.empty()}};
    put(row, reasons, "lowest", summary.lowest, 6, no_samples);
    put(row, reasons, "highest", summary.highest, 6, no_samples);
    body["channels"].push_back(std::move(row));
  }
  return json_document("recording", body, reasons, recording.warnings, recording.provenance);
}

std::string recording_text(const Recording& recording) {
  TextPage page;
  page.heading("Recording " + recording.provenance.input);
  page.row("format", recording.provenance.format);
  page.row("length", format_clock(recording.duration), with_unit(brief_number(recording.duration.value(), 3), "s"));
  if (recording.clock_start) page.row("started", *recording.clock_start);
  page.blank().heading("Channels");
  std::vector<std::vector<std::string>> rows{
      {"", "name", "kind", "unit", "rate in Hz", "samples", "missing", "lowest", "highest"}};
  int position = 0;
  for (const Channel& channel : recording.channels) {
    const ChannelSummary summary = summarise(channel);
    rows.push_back({std::to_string(++position), channel.name, to_string(channel.kind),
                    channel.unit.empty() ? "-" : channel.unit, brief_number(channel.rate.value(), 2),
                    std::to_string(channel.samples.size()), std::to_string(summary.missing),
                    brief_number(summary.lowest, 3), brief_number(summary.highest, 3)});
  }
  page.table(rows);
  return page.take();
}

}  // namespace pulsewright
