#include <set>

#include "8_report/text/csv_table.hpp"
#include "8_report/text/json_document.hpp"
#include "8_report/text/text_page.hpp"
#include "8_report/variability_measures.hpp"

namespace pulsewright {
namespace {

constexpr const char* too_few = "too few normal-to-normal intervals";

void put_measure(Json& body, Reasons& reasons, const VariabilityMeasure& measure) {
  if (measure.decimals == 0 && measure.value)
    body[measure.key] = static_cast<std::int64_t>(*measure.value);
  else
    put(body, reasons, measure.key, measure.value, measure.decimals, too_few);
}

Json powers_body(const BandPowers& powers) {
  Json body = Json::object();
  Reasons reasons(powers.reasons);
  body["method"] = to_string(powers.method);
  for (const VariabilityMeasure& measure : power_measures(powers)) put_measure(body, reasons, measure);
  body["model_order_count"] = nullptr;
  if (powers.model_order)
    body["model_order_count"] = *powers.model_order;
  else
    reasons.explain("model_order_count", "the method has no model");
  body["reasons"] = reasons.json();
  return body;
}

void put_heads(CsvTable& table, const std::vector<VariabilityMeasure>& measures) {
  table.text("nn_count").text("difference_count");
  for (const VariabilityMeasure& measure : measures) table.text(measure.key);
  table.text("spectrum_method").text("hf_low_hz").text("hf_high_hz").text("breathing_hz").end_row();
}

std::optional<double> hertz(const std::optional<Hertz>& value) {
  return value ? std::optional<double>(value->value()) : std::nullopt;
}

void put_row(CsvTable& table, const Variability& result) {
  table.count(result.nn_count).count(result.difference_count);
  for (const VariabilityMeasure& measure : variability_measures(result)) table.number(measure.value, measure.decimals);
  table.text(to_string(result.power.method));
  table.number(result.hf_band.low.value(), 5).number(result.hf_band.high.value(), 5);
  table.number(hertz(result.breathing), 5).end_row();
}

std::string shown(const VariabilityMeasure& measure) {
  if (!measure.value) return with_unit("", measure.unit);
  if (std::string_view(measure.key) == "mean_hr_bpm")
    return with_unit(std::to_string(whole_beats(BeatsPerMinute{*measure.value})), measure.unit);
  const bool hz = std::string_view(measure.unit) == "Hz", plain = std::string_view(measure.unit).empty();
  const int decimals = measure.decimals == 0 ? 0 : hz ? 3 : plain ? 2 : 1;
  return with_unit(format_number(measure.value, decimals), measure.unit);
}

void put_group(TextPage& page, const Variability& result, MeasureGroup group) {
  for (const VariabilityMeasure& measure : variability_measures(result))
    if (measure.group == group && measure.value) page.row(measure.label, shown(measure), measure.meaning);
}

std::string method_in_words(SpectrumMethod method) {
  switch (method) {
    case SpectrumMethod::welch: return "averaged periodogram (Welch)";
    case SpectrumMethod::burg: return "autoregressive model (Burg)";
    case SpectrumMethod::covariance: return "autoregressive model (covariance)";
    case SpectrumMethod::lomb_scargle: return "uneven beats (Lomb-Scargle)";
  }
  return "";
}

}  // namespace

std::string variability_csv(const Variability& result, const NumberStyle& style) {
  CsvTable table({}, style);
  put_heads(table, variability_measures(result));
  put_row(table, result);
  return table.take();
}

std::string variability_windows_csv(std::span<const VariabilityWindow> windows, const NumberStyle& style) {
  CsvTable table({}, style);
  table.text("start_s").text("end_s");
  put_heads(table, variability_measures({}));
  for (const VariabilityWindow& window : windows) {
    table.number(window.span.start.value(), 3).number(window.span.end.value(), 3);
    put_row(table, window.result);
  }
  return table.take();
}

Json variability_body(const Variability& result, Reasons& reasons) {
  Json body = Json::object();
  body["nn_count"] = result.nn_count;
  body["difference_count"] = result.difference_count;
  for (const VariabilityMeasure& measure : variability_measures(result)) put_measure(body, reasons, measure);
  body["multiscale_entropy"] = Json::array();
  for (const auto& value : result.multiscale_entropy) body["multiscale_entropy"].push_back(json_number(value, 4));
  for (const auto& value : body["multiscale_entropy"])
    if (value.is_null()) reasons.explain("multiscale_entropy", too_few);
  body["spectrum_method"] = to_string(result.power.method);
  body["hf_low_hz"] = json_number(result.hf_band.low.value(), 5);
  body["hf_high_hz"] = json_number(result.hf_band.high.value(), 5);
  put(body, reasons, "breathing_hz", hertz(result.breathing), 5,
      "the HF band does not follow breathing, or none was found");
  body["spectra"] = Json::array();
  for (const BandPowers& powers : result.spectra) body["spectra"].push_back(powers_body(powers));
  return body;
}

std::string variability_json(const Variability& result) {
  Reasons reasons(result.reasons);
  const Json body = variability_body(result, reasons);
  return json_document("variability", body, reasons, result.warnings, result.provenance);
}

std::string variability_windows_json(std::span<const VariabilityWindow> windows, const SlidingOptions& options,
                                     const Warnings& warnings, const Provenance& provenance) {
  Json body = Json::object();
  body["window_s"] = json_number(options.window.value(), 3);
  body["step_s"] = json_number(options.step.value(), 3);
  body["windows_count"] = static_cast<std::int64_t>(windows.size());
  body["windows"] = Json::array();
  for (const VariabilityWindow& window : windows) {
    Json row = {{"start_s", json_number(window.span.start.value(), 3)},
                {"end_s", json_number(window.span.end.value(), 3)}};
    Reasons reasons(window.result.reasons);
    row.update(variability_body(window.result, reasons));
    row["reasons"] = reasons.json();
    body["windows"].push_back(std::move(row));
  }
  return json_document("variability_windows", body, Reasons{}, warnings, provenance);
}

std::string variability_text(const Variability& result) {
  TextPage page;
  page.heading("Heart-rate variability of " + result.provenance.input + " (Task Force of ESC/NASPE 1996)");
  for (const Warning& warning : result.warnings)
    if (warning.code == "not_at_rest") page.paragraph("Note: " + warning.message);
  page.row("NN intervals", std::to_string(result.nn_count), "used, normal or replaced");
  for (const VariabilityMeasure& measure : principal_measures(result))
    page.row(measure.label, shown(measure), measure.meaning);
  put_group(page, result, MeasureGroup::time);
  if (result.power.variance_ms2) {
    page.blank().heading("Over frequency: " + method_in_words(result.power.method));
    page.row(
        "HF band",
        format_number(result.hf_band.low.value(), 3) + " to " + format_number(result.hf_band.high.value(), 3) + " Hz",
        result.breathing ? "follows breathing" : "");
    put_group(page, result, MeasureGroup::frequency);
  }
  if (result.sd1_ms) {
    page.blank().heading("Scatter, regularity, scaling");
    put_group(page, result, MeasureGroup::complexity);
  }
  add_reasons(page, result.reasons);
  return page.take();
}

std::string variability_windows_text(std::span<const VariabilityWindow> windows) {
  TextPage page;
  page.heading("Heart-rate variability in windows");
  std::vector<std::vector<std::string>> rows{
      {"from s", "to s", "NN", "flagged %", "beats/min", "SDNN ms", "RMSSD ms", "LF ms2", "HF ms2", "alpha1"}};
  const auto cell = [](const std::optional<double>& value, int decimals) {
    return value ? format_number(value, decimals) : std::string("none");
  };
  for (const VariabilityWindow& window : windows) {
    const Variability& v = window.result;
    rows.push_back({format_number(window.span.start.value(), 0), format_number(window.span.end.value(), 0),
                    std::to_string(v.nn_count), cell(v.flagged_percent, 1), cell(v.mean_hr_bpm, 0), cell(v.sdnn_ms, 1),
                    cell(v.rmssd_ms, 1), cell(v.power.lf_power_ms2, 1), cell(v.power.hf_power_ms2, 1),
                    cell(v.alpha1, 2)});
  }
  page.table(rows);
  page.blank().paragraph(
      "One window's alpha1 is an estimate with a large error: over 250 beats it spreads by about 0.07 by chance alone, "
      "and "
      "missed beats bias it.");
  return page.take();
}

}  // namespace pulsewright
