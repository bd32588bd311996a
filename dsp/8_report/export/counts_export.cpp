#include <fmt/format.h>

#include "8_report/text/csv_table.hpp"
#include "8_report/text/json_document.hpp"
#include "8_report/text/text_page.hpp"
#include "pulsewright/agreement_report.hpp"

namespace pulsewright {
namespace {

std::optional<double> recorded_of(const ScoredCount& c) {
  return c.recorded ? std::optional<double>(c.recorded->value()) : std::nullopt;
}

std::string shown(std::optional<double> value, int decimals) { return value ? format_number(value, decimals) : "-"; }

}  // namespace

std::string counts_text(const CountStudy& study) {
  TextPage page;
  page.heading("Counts by hand against recordings, beats/min");
  std::vector<std::vector<std::string>> rows{{"who", "counted", "in s", "begun", "by count", "recorded", "difference"}};
  for (const ScoredCount& c : study.counts)
    rows.push_back({c.count.code, fmt::format("{}", c.count.counted), format_number(c.count.length.value(), 0),
                    to_string(c.count.began), format_number(c.by_count.value(), 1), shown(recorded_of(c), 1),
                    shown(c.difference_bpm, 1)});
  page.table(rows);
  page.blank().heading("By length: what rounding to whole beats makes, and what was found");
  rows = {{"in s", "begun", "counts", "a beat is", "bias expected", "found", "RMS expected", "found"}};
  for (const CountGroup& g : study.groups)
    rows.push_back({format_number(g.length.value(), 0), to_string(g.began), fmt::format("{}", g.counts),
                    format_number(g.beat_bpm, 2), format_number(g.expected_bias_bpm, 2), shown(g.found_bias_bpm, 2),
                    format_number(g.expected_rms_bpm, 2), shown(g.found_rms_bpm, 2)});
  page.table(rows);
  for (const ScoredCount& c : study.counts)
    if (!c.reason.empty()) page.paragraph(c.count.code + ": " + c.reason);
  return page.take();
}

std::string counts_csv(const CountStudy& study, const NumberStyle& style) {
  CsvTable table({"code", "recording", "start_s", "length_s", "began", "counted", "by_count_bpm", "recorded_bpm",
                  "difference_bpm", "expected_bias_bpm", "expected_rms_bpm", "reason"},
                 style);
  for (const ScoredCount& c : study.counts) {
    table.text(c.count.code).text(c.count.recording).number(c.count.start.value(), 3).number(c.count.length.value(), 3);
    table.text(to_string(c.count.began)).count(c.count.counted).number(c.by_count.value(), 2).number(recorded_of(c), 2);
    table.number(c.difference_bpm, 2);
    for (const CountGroup& g : study.groups)
      if (g.length == c.count.length && g.began == c.count.began)
        table.number(g.expected_bias_bpm, 2).number(g.expected_rms_bpm, 2);
    table.text(c.reason).end_row();
  }
  return table.take();
}

std::string counts_json(const CountStudy& study, const Provenance& provenance) {
  Reasons reasons;
  Json body = Json::object();
  body["counts"] = Json::array();
  for (const ScoredCount& c : study.counts) {
    Json entry = {{"code", c.count.code},
                  {"recording", c.count.recording},
                  {"start_s", json_number(c.count.start.value(), 3)},
                  {"length_s", json_number(c.count.length.value(), 3)},
                  {"began", to_string(c.count.began)},
                  {"counted_count", c.count.counted},
                  {"by_count_bpm", json_number(c.by_count.value(), 2)}};
    put(entry, reasons, "recorded_bpm", recorded_of(c), 2, c.reason);
    put(entry, reasons, "difference_bpm", c.difference_bpm, 2, c.reason);
    body["counts"].push_back(std::move(entry));
  }
  body["groups"] = Json::array();
  for (const CountGroup& g : study.groups) {
    Json entry = {{"length_s", json_number(g.length.value(), 3)},
                  {"began", to_string(g.began)},
                  {"counts_count", g.counts},
                  {"beat_bpm", json_number(g.beat_bpm, 3)},
                  {"expected_bias_bpm", json_number(g.expected_bias_bpm, 3)},
                  {"expected_rms_bpm", json_number(g.expected_rms_bpm, 3)}};
    put(entry, reasons, "found_bias_bpm", g.found_bias_bpm, 3, "no count of the group has a recorded rate");
    put(entry, reasons, "found_rms_bpm", g.found_rms_bpm, 3, "no count of the group has a recorded rate");
    body["groups"].push_back(std::move(entry));
  }
  return json_document("count_comparison", body, reasons, study.warnings, provenance);
}

}  // namespace pulsewright
