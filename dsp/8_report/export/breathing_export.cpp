#include <algorithm>
#include <vector>

#include "8_report/text/csv_table.hpp"
#include "8_report/text/json_document.hpp"
#include "8_report/text/text_page.hpp"
#include "pulsewright/breathing_report.hpp"

namespace pulsewright {
namespace {

constexpr const char* why_none =
    "a window whose breathing cannot be told (too few beats, no clear or no steady rhythm) has none";

std::optional<double> per_minute(const std::optional<Hertz>& rate) {
  return rate ? std::optional<double>(60 * rate->value()) : std::nullopt;
}

std::vector<double> measured(const BreathingSeries& series) {
  std::vector<double> rates;
  for (const BreathingWindow& window : series.windows)
    if (window.rate) rates.push_back(*per_minute(window.rate));
  std::sort(rates.begin(), rates.end());
  return rates;
}

}  // namespace

std::string breathing_csv(const BreathingSeries& series, const NumberStyle& style) {
  CsvTable table({"start_s", "end_s", "breaths_per_min", "low_per_min", "high_per_min"}, style);
  for (const BreathingWindow& window : series.windows) {
    table.number(window.window.start.value(), 3).number(window.window.end.value(), 3);
    table.number(per_minute(window.rate), 2).number(per_minute(window.low), 2).number(per_minute(window.high), 2);
    table.end_row();
  }
  return table.take();
}

std::string breathing_json(const BreathingSeries& series) {
  Reasons reasons;
  Json body = Json::object();
  body["duration_s"] = json_number(series.duration.value(), 6);
  body["window_s"] = json_number(series.options.window.value(), 3);
  body["step_s"] = json_number(series.options.step.value(), 3);
  body["windows_count"] = static_cast<std::int64_t>(series.windows.size());
  body["measured_count"] = static_cast<std::int64_t>(measured(series).size());
  body["windows"] = Json::array();
  for (const BreathingWindow& window : series.windows) {
    Json row = {{"start_s", json_number(window.window.start.value(), 3)},
                {"end_s", json_number(window.window.end.value(), 3)}};
    put(row, reasons, "breaths_per_min", per_minute(window.rate), 2, why_none);
    put(row, reasons, "low_per_min", per_minute(window.low), 2, why_none);
    put(row, reasons, "high_per_min", per_minute(window.high), 2, why_none);
    body["windows"].push_back(std::move(row));
  }
  return json_document("breathing", body, reasons, series.warnings, series.provenance);
}

std::string breathing_text(const BreathingSeries& series) {
  TextPage page;
  page.heading("Breathing of " + series.provenance.input + ", told from its beats");
  const std::vector<double> rates = measured(series);
  page.row("windows", std::to_string(series.windows.size()),
           "of " + format_number(series.options.window.value(), 0) + " s, one every " +
               format_number(series.options.step.value(), 0) + " s, full windows only");
  page.row("measured", std::to_string(rates.size()), "the others show no clear or no steady rhythm");
  if (!rates.empty()) {
    page.row("median", with_unit(format_number(rates[rates.size() / 2], 1), "breaths/min"));
    page.row("lowest", with_unit(format_number(rates.front(), 1), "breaths/min"));
    page.row("highest", with_unit(format_number(rates.back(), 1), "breaths/min"));
  }
  page.blank().paragraph(
      "Breathing moves the time between beats, their height and the level that they stand on. It was compared with "
      "carbon dioxide and with a bedside monitor; in movement it has not been, and irregular breathing has no one "
      "rate.");
  return page.take();
}

}  // namespace pulsewright
