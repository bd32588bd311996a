#include <fmt/format.h>

#include <span>
#include <utility>

#include "8_report/study/study_figures.hpp"
#include "8_report/text/csv_table.hpp"
#include "8_report/text/json_document.hpp"
#include "pulsewright/agreement_report.hpp"

namespace pulsewright {
namespace {

constexpr const char* few = "fewer than two pairs, or nothing was analysed";
constexpr const char* few_people = "an interval over people needs five people, limits two pairs";

std::optional<double> value_of(const std::optional<Estimate>& e) { return e ? std::optional(e->value) : std::nullopt; }

/// The bias and both limits, those of repeated measures where there are several pairs a person.
void add_limits(CsvTable& table, const PairedAgreement& a) {
  const LimitsOfAgreement* l = limits_of(a);
  table.number(value_of(a.bias), 3);
  table.number(l ? std::optional(l->lower.value) : std::nullopt, 3);
  table.number(l ? std::optional(l->upper.value) : std::nullopt, 3);
}

void add_row(CsvTable& table, const std::string& by, const IntervalGroup& g) {
  const auto count = [](std::size_t n) { return static_cast<std::int64_t>(n); };
  const LimitsOfAgreement* l = limits_of(g.intervals);
  table.text(by).text(g.name).count(count(g.recorded)).count(count(g.records)).count(count(g.intervals.people));
  table.count(g.beats.true_positives + g.beats.false_negatives);
  table.number(g.missed_percent(), 3).number(g.extra_percent(), 3).count(count(g.intervals.pairs));
  table.number(value_of(g.intervals.bias), 3).number(l ? std::optional(l->sd) : std::nullopt, 3);
  table.number(l ? std::optional(l->lower.value) : std::nullopt, 3);
  table.number(l ? std::optional(l->upper.value) : std::nullopt, 3);
  table.number(value_of(g.intervals.mean_absolute_error), 3);
  table.number(value_of(g.intervals.root_mean_square_error), 3).count(count(g.at_rest));
  for (const MeasureStudy& m : g.measures) add_limits(table, m.agreement);
  table.end_row();
}

/// A record alone as a group of one.
IntervalGroup alone(const ComparedIntervals& record, const PairedOptions& options) {
  IntervalStudyOptions without_bootstrap;
  without_bootstrap.paired = options;
  without_bootstrap.paired.resamples = 0;
  IntervalGroup group = interval_study({record}, without_bootstrap).overall;
  group.name = record.facts.name;
  return group;
}

Json estimate(const std::optional<Estimate>& e, Reasons& reasons) {
  Json object = Json::object();
  put(object, reasons, "value", value_of(e), 3, few);
  put(object, reasons, "low", e ? e->low : std::nullopt, 3, few_people);
  put(object, reasons, "high", e ? e->high : std::nullopt, 3, few_people);
  return object;
}

Json agreement_body(const PairedAgreement& a, Reasons& reasons) {
  const LimitsOfAgreement* l = limits_of(a);
  Json body = {{"pairs_count", a.pairs}, {"people_count", a.people}, {"repeated", a.repeated.has_value()}};
  body["bias"] = estimate(a.bias, reasons);
  put(body, reasons, "sd", l ? std::optional(l->sd) : std::nullopt, 3, few);
  body["lower_limit"] = estimate(l ? std::optional(l->lower) : std::nullopt, reasons);
  body["upper_limit"] = estimate(l ? std::optional(l->upper) : std::nullopt, reasons);
  body["mae"] = estimate(a.mean_absolute_error, reasons);
  body["rmse"] = estimate(a.root_mean_square_error, reasons);
  body["concordance"] = estimate(a.concordance_population, reasons);
  return body;
}

Json group_body(const IntervalGroup& g, Reasons& reasons) {
  Json body = {{"name", g.name},
               {"recorded_count", g.recorded},
               {"records_count", g.records},
               {"reference_count", g.beats.true_positives + g.beats.false_negatives},
               {"missed_count", g.beats.false_negatives},
               {"extra_count", g.beats.false_positives}};
  put(body, reasons, "missed_percent", g.missed_percent(), 3, "nothing was analysed");
  put(body, reasons, "extra_percent", g.extra_percent(), 3, "nothing was analysed");
  body["intervals_ms"] = agreement_body(g.intervals, reasons);
  body["at_rest_count"] = g.at_rest;
  body["measures"] = Json::object();
  for (const MeasureStudy& m : g.measures) body["measures"][m.measure] = agreement_body(m.agreement, reasons);
  return body;
}

Json record_body(const ComparedIntervals& r, Reasons& reasons) {
  Json body = {{"name", r.facts.name},          {"person", r.facts.person},       {"condition", r.facts.condition},
               {"device", r.facts.device},      {"skin_tone", r.facts.skin_tone}, {"sex", r.facts.sex},
               {"criterion", r.facts.criterion}};
  put(body, reasons, "bmi", r.facts.bmi, 1, "not stated");
  body["reached"] = to_string(r.reached);
  body["left_out"] = r.left_out;
  body["offset_s"] = json_number(r.offset.value(), 4);
  body["note"] = r.note;
  body["at_rest"] = r.agreement.at_rest;
  body["measures"] = Json::array();
  for (const MeasureAgreement& m : r.agreement.measures) {
    Json entry = {{"measure", m.measure}};
    constexpr const char* absent = "one of the two sides does not give it";
    put(entry, reasons, "reference", m.reference, 3, absent);
    put(entry, reasons, "test", m.test, 3, absent);
    put(entry, reasons, "difference", m.difference, 3, absent);
    body["measures"].push_back(std::move(entry));
  }
  return body;
}

}  // namespace

std::string interval_study_csv(const IntervalStudy& study, const NumberStyle& style) {
  CsvTable table({"group",
                  "name",
                  "recorded_count",
                  "records_count",
                  "people_count",
                  "reference_count",
                  "missed_percent",
                  "extra_percent",
                  "intervals_count",
                  "bias_ms",
                  "sd_ms",
                  "lower_limit_ms",
                  "upper_limit_ms",
                  "mae_ms",
                  "rmse_ms",
                  "at_rest_count",
                  "bias_mean_nn_ms",
                  "lower_limit_mean_nn_ms",
                  "upper_limit_mean_nn_ms",
                  "bias_sdnn_ms",
                  "lower_limit_sdnn_ms",
                  "upper_limit_sdnn_ms",
                  "bias_rmssd_ms",
                  "lower_limit_rmssd_ms",
                  "upper_limit_rmssd_ms",
                  "bias_sdsd_ms",
                  "lower_limit_sdsd_ms",
                  "upper_limit_sdsd_ms",
                  "bias_pnn50_percent",
                  "lower_limit_pnn50_percent",
                  "upper_limit_pnn50_percent",
                  "bias_mean_hr_bpm",
                  "lower_limit_mean_hr_bpm",
                  "upper_limit_mean_hr_bpm"},
                 style);
  for (const ComparedIntervals& record : study.records) add_row(table, "record", alone(record, study.options.paired));
  for (const IntervalBreakdown& breakdown : study.breakdowns)
    for (const IntervalGroup& group : breakdown.groups) add_row(table, breakdown.by, group);
  add_row(table, "overall", study.overall);
  return table.take();
}

std::string interval_study_json(const IntervalStudy& study, const Provenance& provenance) {
  Reasons reasons;
  Json body = {{"flow",
                {{"recorded_count", study.records.size()},
                 {"readable_count", study.readable},
                 {"analysed_count", study.overall.records}}}};
  body["overall"] = group_body(study.overall, reasons);
  for (const auto& [key, column] : {std::pair{"conditions", "condition"},
                                    {"devices", "device"},
                                    {"skin_tones", "skin_tone"},
                                    {"sexes", "sex"},
                                    {"bmi_groups", "bmi"}}) {
    body[key] = Json::array();
    for (const IntervalBreakdown& breakdown : study.breakdowns)
      if (breakdown.by == column)
        for (const IntervalGroup& group : breakdown.groups) body[key].push_back(group_body(group, reasons));
  }
  body["records"] = Json::array();
  for (const ComparedIntervals& record : study.records) body["records"].push_back(record_body(record, reasons));
  body["bootstrap"] = {{"seed", study.options.paired.seed}, {"resamples_count", study.options.paired.resamples}};
  return json_document("interval_study", body, reasons, study.warnings, provenance);
}

}  // namespace pulsewright
