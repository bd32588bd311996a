#include <array>

#include "csv_table.hpp"
#include "json_document.hpp"
#include "text_page.hpp"

namespace pulsewright {
namespace {

std::optional<double> as_number(const std::optional<int>& count) {
  return count ? std::optional<double>(*count) : std::nullopt;
}

/// One measure: key, value, decimals, and what it is.
struct Measure {
  const char* key;
  std::optional<double> value;
  int decimals;
  const char* label;
  const char* unit;
  const char* meaning;
};

/// Every measure in the order of the contract.
std::array<Measure, 10> measures(const Variability& v) {
  return {{{"mean_nn_ms", v.mean_nn_ms, 3, "mean NN", "ms", "mean normal-to-normal interval"},
           {"sdnn_ms", v.sdnn_ms, 3, "SDNN", "ms", "their standard deviation (n - 1): slow and fast changes together"},
           {"rmssd_ms", v.rmssd_ms, 3, "RMSSD", "ms", "root mean square of neighbours' differences: fast changes"},
           {"sdsd_ms", v.sdsd_ms, 3, "SDSD", "ms", "standard deviation of those differences (n - 1)"},
           {"nn50_count", as_number(v.nn50_count), 0, "NN50", "", "differences of more than 50 ms"},
           {"pnn50_percent", v.pnn50_percent, 2, "pNN50", "%", "their share of all differences"},
           {"mean_hr_bpm", v.mean_hr_bpm, 2, "mean heart rate", "beats/min", "60000 / mean NN"},
           {"min_nn_ms", v.min_nn_ms, 3, "shortest NN", "ms", ""},
           {"max_nn_ms", v.max_nn_ms, 3, "longest NN", "ms", ""},
           {"flagged_percent", v.flagged_percent, 2, "flagged", "%", "intervals replaced or left out"}}};
}

}  // namespace

std::string variability_csv(const Variability& result, const NumberStyle& style) {
  CsvTable table({"nn_count", "difference_count", "mean_nn_ms", "sdnn_ms", "rmssd_ms", "sdsd_ms", "nn50_count",
                  "pnn50_percent", "mean_hr_bpm", "min_nn_ms", "max_nn_ms", "flagged_percent"},
                 style);
  table.count(result.nn_count).count(result.difference_count);
  for (const Measure& measure : measures(result)) table.number(measure.value, measure.decimals);
  table.end_row();
  return table.take();
}

Json variability_body(const Variability& result, Reasons& reasons) {
  Json body = Json::object();
  body["nn_count"] = result.nn_count;
  body["difference_count"] = result.difference_count;
  for (const Measure& measure : measures(result))
    put(body, reasons, measure.key, measure.value, measure.decimals, "too few normal-to-normal intervals");
  if (result.nn50_count) body["nn50_count"] = *result.nn50_count;
  return body;
}

std::string variability_json(const Variability& result) {
  Reasons reasons(result.reasons);
  const Json body = variability_body(result, reasons);
  return json_document("variability", body, reasons, result.warnings, result.provenance);
}

std::string variability_text(const Variability& result) {
  TextPage page;
  page.heading("Heart-rate variability of " + result.provenance.input + " (Task Force of ESC/NASPE 1996)");
  for (const Warning& warning : result.warnings)
    if (warning.code == "not_at_rest") page.paragraph("Note: " + warning.message);
  page.row("NN intervals", std::to_string(result.nn_count), "used, normal or replaced");
  for (const Measure& measure : measures(result)) {
    const bool rate = std::string_view(measure.key) == "mean_hr_bpm";
    const std::string number = rate && measure.value ? std::to_string(whole_beats(BeatsPerMinute{*measure.value}))
                                                     : format_number(measure.value, measure.decimals > 0 ? 1 : 0);
    page.row(measure.label, with_unit(number, measure.unit), measure.meaning);
  }
  add_reasons(page, result.reasons);
  return page.take();
}

}  // namespace pulsewright
