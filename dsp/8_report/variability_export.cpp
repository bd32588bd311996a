#include "csv_table.hpp"
#include "json_document.hpp"
#include "text_page.hpp"
#include "variability_measures.hpp"

namespace pulsewright {
std::string variability_csv(const Variability& result, const NumberStyle& style) {
  CsvTable table({"nn_count", "difference_count", "mean_nn_ms", "sdnn_ms", "rmssd_ms", "sdsd_ms", "nn50_count",
                  "pnn50_percent", "mean_hr_bpm", "min_nn_ms", "max_nn_ms", "flagged_percent"},
                 style);
  table.count(result.nn_count).count(result.difference_count);
  for (const VariabilityMeasure& measure : variability_measures(result)) table.number(measure.value, measure.decimals);
  table.end_row();
  return table.take();
}

Json variability_body(const Variability& result, Reasons& reasons) {
  Json body = Json::object();
  body["nn_count"] = result.nn_count;
  body["difference_count"] = result.difference_count;
  for (const VariabilityMeasure& measure : variability_measures(result))
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
  for (const VariabilityMeasure& measure : variability_measures(result)) {
    const bool rate = std::string_view(measure.key) == "mean_hr_bpm";
    const std::string number = rate && measure.value ? std::to_string(whole_beats(BeatsPerMinute{*measure.value}))
                                                     : format_number(measure.value, measure.decimals > 0 ? 1 : 0);
    page.row(measure.label, with_unit(number, measure.unit), measure.meaning);
  }
  add_reasons(page, result.reasons);
  return page.take();
}

}  // namespace pulsewright
