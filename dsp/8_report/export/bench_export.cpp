#include <algorithm>

#include "8_report/text/csv_table.hpp"
#include "8_report/text/json_document.hpp"
#include "8_report/text/text_page.hpp"
#include "pulsewright/agreement_report.hpp"

namespace pulsewright {
namespace {

std::optional<double> bpm_of(const std::optional<BeatsPerMinute>& rate) {
  return rate ? std::optional<double>(rate->value()) : std::nullopt;
}

std::optional<double> expected_of(const BenchWave& wave) {
  return wave.answer == BenchAnswer::no_response ? std::nullopt : std::optional<double>(wave.expected.value());
}

std::optional<double> seconds_of(const std::optional<Seconds>& time) {
  return time ? std::optional<double>(time->value()) : std::nullopt;
}

std::optional<double> gain_of(const BenchResult& r) {
  return r.returned ? std::optional<double>(r.returned->gain) : std::nullopt;
}
std::optional<double> delay_of(const BenchResult& r) {
  return r.returned ? std::optional<double>(r.returned->delay.value()) : std::nullopt;
}
std::optional<double> correlation_of(const BenchResult& r) {
  return r.returned ? std::optional<double>(r.returned->correlation) : std::nullopt;
}

const char* said(const BenchResult& r) {
  if (r.undecided) return "undecided";
  return !r.passed ? "disclosed" : *r.passed ? "passed" : "failed";
}

}  // namespace

std::string bench_answers_csv(std::span<const BenchWave> waves, const std::string& ending, const NumberStyle& style) {
  CsvTable table({"wave", "file", "answer", "expected_bpm", "before_bpm", "step_at_s", "duration_s", "summary"}, style);
  for (const BenchWave& wave : waves) {
    table.text(wave.name).text(wave.name + ending).text(to_string(wave.answer)).number(expected_of(wave), 0);
    table.number(bpm_of(wave.before), 0);
    table.number(wave.answer == BenchAnswer::step ? std::optional<double>(wave.step_at.value()) : std::nullopt, 0);
    table.number(wave.duration.value(), 0).text(wave.summary).end_row();
  }
  return table.take();
}

std::string bench_text(std::span<const BenchResult> results) {
  TextPage page;
  page.heading("Bench test of a heart-rate meter (after EC13 [from memory])");
  std::vector<std::vector<std::string>> rows{
      {"wave", "wanted", "shown", "verdict", "follows after s", "gain", "delay s"}};
  for (const BenchResult& r : results) {
    const auto expected = expected_of(r.wave);
    rows.push_back({r.wave.name, expected ? format_number(*expected, 0) : "no response",
                    r.shown ? format_number(r.shown->value(), 1) : "nothing", said(r),
                    r.time_to_follow ? format_number(r.time_to_follow->value(), 1) : "-",
                    r.returned ? format_number(r.returned->gain, 4) : "-",
                    r.returned ? format_number(r.returned->delay.value(), 3) : "-"});
  }
  page.table(rows);
  const auto count = [&results](bool value) {
    return std::count_if(results.begin(), results.end(), [value](const BenchResult& r) { return r.passed == value; });
  };
  page.blank().row("passed", std::to_string(count(true))).row("failed", std::to_string(count(false)));
  if (std::any_of(results.begin(), results.end(), [](const BenchResult& r) { return !r.note.empty(); })) {
    page.blank().heading("Notes");
    for (const BenchResult& r : results)
      if (!r.note.empty()) page.row(r.wave.name, r.note);
    page.blank();
  }
  page.paragraph("A rate is right within 10 % or 5 beats/min, whichever is greater, 20 s after the wave began.");
  if (std::any_of(results.begin(), results.end(), [](const BenchResult& r) { return r.returned.has_value(); }))
    page.paragraph(
        "Gain: units of the recording for each mV of the wave. Where the recording's unit is no voltage, the median "
        "gain "
        "of all waves makes it mV before beats are looked for.");
  return page.take();
}

std::string bench_csv(std::span<const BenchResult> results, const NumberStyle& style) {
  CsvTable table({"wave", "answer", "expected_bpm", "shown_bpm", "verdict", "time_to_follow_s", "note", "gain",
                  "delay_s", "correlation"},
                 style);
  for (const BenchResult& r : results) {
    table.text(r.wave.name).text(to_string(r.wave.answer)).number(expected_of(r.wave), 0).number(bpm_of(r.shown), 2);
    table.text(said(r)).number(seconds_of(r.time_to_follow), 2).text(r.note);
    table.number(gain_of(r), 6).number(delay_of(r), 3).number(correlation_of(r), 3).end_row();
  }
  return table.take();
}

std::string bench_json(std::span<const BenchResult> results, const Provenance& provenance) {
  Reasons reasons;
  Json body = Json::object();
  body["waves"] = Json::array();
  for (const BenchResult& r : results) {
    Json wave = {{"wave", r.wave.name}, {"answer", to_string(r.wave.answer)}};
    put(wave, reasons, "expected_bpm", expected_of(r.wave), 2, "no response is wanted");
    put(wave, reasons, "shown_bpm", bpm_of(r.shown), 2, "the meter showed no rate");
    wave["verdict"] = said(r);
    put(wave, reasons, "time_to_follow_s", seconds_of(r.time_to_follow), 2, "no step, or it was not followed");
    wave["note"] = r.note;
    constexpr const char* no_recording = "no recording came back in which the wave was found";
    put(wave, reasons, "gain", gain_of(r), 6, no_recording);
    put(wave, reasons, "delay_s", delay_of(r), 3, no_recording);
    put(wave, reasons, "correlation", correlation_of(r), 3, no_recording);
    body["waves"].push_back(std::move(wave));
  }
  return json_document("bench", body, reasons, {}, provenance);
}

}  // namespace pulsewright
