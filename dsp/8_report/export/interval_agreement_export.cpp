#include <fmt/format.h>

#include "8_report/text/csv_table.hpp"
#include "8_report/text/json_document.hpp"
#include "8_report/text/text_page.hpp"
#include "8_report/variability_measures.hpp"
#include "pulsewright/agreement_report.hpp"

namespace pulsewright {
namespace {

std::string shown(std::optional<double> value, int decimals) { return value ? format_number(value, decimals) : "none"; }

constexpr const char* absent = "one of the two sides does not give it";

}  // namespace

std::string intervals_agreement_text(const ComparedIntervals& record) {
  const IntervalAgreement& r = record.agreement;
  TextPage page;
  page.heading("Intervals of " + record.facts.name + " against the reference");
  if (!record.left_out.empty() && r.intervals.pairs == 0) {
    page.paragraph("Nothing is compared: " + record.left_out + ".");
    return page.take();
  }
  page.row("reference beats", fmt::format("{}", r.beats.true_positives + r.beats.false_negatives));
  page.row("delay", shown(record.offset.value(), 3) + " s", "taken off the test's beats");
  page.row("missed", fmt::format("{}", r.beats.false_negatives));
  page.row("extra", fmt::format("{}", r.beats.false_positives));
  page.row("intervals", fmt::format("{} of {}", r.intervals.pairs, r.reference_intervals),
           "bounded by the same beats on both sides");
  if (r.intervals.plain) {
    const LimitsOfAgreement& l = *r.intervals.plain;
    page.row("bias", shown(l.bias.value, 2) + " ms", "test minus reference");
    page.row("SD", shown(l.sd, 2) + " ms");
    page.row("limits of agreement", shown(l.lower.value, 2) + " to " + shown(l.upper.value, 2) + " ms");
    page.row("mean absolute error", shown(r.intervals.mean_absolute_error->value, 2) + " ms");
    page.row("root mean square error", shown(r.intervals.root_mean_square_error->value, 2) + " ms");
  }
  page.blank().heading(r.at_rest ? "Variability" : "Variability (not at rest)");
  std::vector<std::vector<std::string>> rows{{"measure", "reference", "test", "difference", "%"}};
  for (const MeasureAgreement& m : r.measures)
    rows.push_back({measure_label(m.measure), shown(m.reference, 2), shown(m.test, 2), shown(m.difference, 2),
                    shown(m.difference_percent, 1)});
  page.table(rows);
  for (const Warning& warning : r.warnings) page.paragraph(warning.message + ".");
  return page.take();
}

std::string intervals_agreement_csv(const ComparedIntervals& record, const NumberStyle& style) {
  const IntervalAgreement& r = record.agreement;
  CsvTable table({"measure", "reference", "test", "difference", "difference_percent"}, style);
  for (const MeasureAgreement& m : r.measures)
    table.text(m.measure)
        .number(m.reference, 3)
        .number(m.test, 3)
        .number(m.difference, 3)
        .number(m.difference_percent, 2)
        .end_row();
  const auto extra = [&table](const char* name, std::optional<double> value) {
    table.text(name).text("").text("").number(value, 3).text("").end_row();
  };
  const auto& plain = r.intervals.plain;
  extra("interval_bias_ms", plain ? std::optional(plain->bias.value) : std::nullopt);
  extra("interval_sd_ms", plain ? std::optional(plain->sd) : std::nullopt);
  extra("interval_lower_limit_ms", plain ? std::optional(plain->lower.value) : std::nullopt);
  extra("interval_upper_limit_ms", plain ? std::optional(plain->upper.value) : std::nullopt);
  return table.take();
}

std::string intervals_agreement_json(const ComparedIntervals& record, const Provenance& provenance) {
  const IntervalAgreement& r = record.agreement;
  Reasons reasons;
  Json body = {{"name", record.facts.name},
               {"offset_s", json_number(record.offset.value(), 4)},
               {"note", record.note},
               {"reference_count", r.beats.true_positives + r.beats.false_negatives},
               {"missed_count", r.beats.false_negatives},
               {"extra_count", r.beats.false_positives},
               {"reference_intervals_count", r.reference_intervals},
               {"intervals_count", r.intervals.pairs}};
  const auto& plain = r.intervals.plain;
  constexpr const char* few = "fewer than two intervals are bounded by the same beats on both sides";
  put(body, reasons, "bias_ms", plain ? std::optional(plain->bias.value) : std::nullopt, 3, few);
  put(body, reasons, "sd_ms", plain ? std::optional(plain->sd) : std::nullopt, 3, few);
  put(body, reasons, "lower_limit_ms", plain ? std::optional(plain->lower.value) : std::nullopt, 3, few);
  put(body, reasons, "upper_limit_ms", plain ? std::optional(plain->upper.value) : std::nullopt, 3, few);
  put(body, reasons, "mae_ms",
      r.intervals.mean_absolute_error ? std::optional(r.intervals.mean_absolute_error->value) : std::nullopt, 3, few);
  put(body, reasons, "rmse_ms",
      r.intervals.root_mean_square_error ? std::optional(r.intervals.root_mean_square_error->value) : std::nullopt, 3,
      few);
  body["at_rest"] = r.at_rest;
  body["measures"] = Json::array();
  for (const MeasureAgreement& m : r.measures) {
    Json entry = {{"measure", m.measure}};
    put(entry, reasons, "reference", m.reference, 3, absent);
    put(entry, reasons, "test", m.test, 3, absent);
    put(entry, reasons, "difference", m.difference, 3, absent);
    put(entry, reasons, "difference_percent", m.difference_percent, 2, absent);
    body["measures"].push_back(std::move(entry));
  }
  return json_document("interval_comparison", body, reasons, r.warnings, provenance);
}

}  // namespace pulsewright
