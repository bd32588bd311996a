#include <fmt/format.h>

#include <cmath>
#include <span>
#include <utility>

#include "8_report/alignment_outcome.hpp"
#include "8_report/text/csv_table.hpp"
#include "8_report/text/json_document.hpp"
#include "pulsewright/agreement_report.hpp"

namespace pulsewright {
namespace {

constexpr const char* nothing = "nothing was analysed";

std::optional<double> value_of(const std::optional<Estimate>& e) {
  return e ? std::optional<double>(e->value) : std::nullopt;
}

/// The limits to report: for several pairs a person those of repeated measures.
const LimitsOfAgreement* limits_of(const PairedAgreement& a) {
  if (a.repeated) return &a.repeated->limits;
  return a.plain ? &*a.plain : nullptr;
}

void add_row(CsvTable& table, const char* group, const std::string& name, std::size_t records, const PairedAgreement& a,
             const std::optional<WindowCounts>& counts) {
  table.text(group).text(name).count(static_cast<std::int64_t>(records)).count(static_cast<std::int64_t>(a.people));
  table.count(static_cast<std::int64_t>(a.pairs));
  table.number(counts ? counts->missing_percent() : std::nullopt, 2);
  table.number(a.pairs > 0 ? std::optional<double>(a.reference_mean) : std::nullopt, 2);
  const LimitsOfAgreement* limits = limits_of(a);
  const auto part = [limits](auto get) { return limits ? std::optional<double>(get(*limits)) : std::nullopt; };
  table.number(value_of(a.bias), 3).number(part([](const auto& l) { return l.sd; }), 3);
  table.number(part([](const auto& l) { return l.lower.value; }), 3);
  table.number(part([](const auto& l) { return l.upper.value; }), 3);
  table.number(value_of(a.mean_absolute_error), 3).number(value_of(a.mean_absolute_percentage_error), 3);
  table.number(value_of(a.root_mean_square_error), 3);
  table.number(value_of(a.within_5_percent), 2).number(value_of(a.within_10_percent), 2);
  table.number(value_of(a.within_ec13_percent), 2);
  table.number(value_of(a.correlation), 4).number(value_of(a.concordance_population), 4);
  table.number(value_of(a.interval_covers_percent), 2).end_row();
}

Json estimate(const std::optional<Estimate>& e, int decimals, Reasons& reasons, const std::string& why) {
  Json object = Json::object();
  put(object, reasons, "value", e ? std::optional<double>(e->value) : std::nullopt, decimals, why);
  put(object, reasons, "low", e ? e->low : std::nullopt, decimals,
      e ? "an interval over people needs five people" : why);
  put(object, reasons, "high", e ? e->high : std::nullopt, decimals,
      e ? "an interval over people needs five people" : why);
  return object;
}

Json limits_body(const LimitsOfAgreement& l, Reasons& reasons) {
  return {{"bias_bpm", estimate(l.bias, 3, reasons, nothing)},
          {"sd_bpm", json_number(l.sd, 3)},
          {"lower_bpm", estimate(l.lower, 3, reasons, nothing)},
          {"upper_bpm", estimate(l.upper, 3, reasons, nothing)}};
}

/// `null` with a reason, or what `make` gives of the value.
template <class T, class Make>
void put_part(Json& object, Reasons& reasons, const char* key, const std::optional<T>& value, const Make& make,
              const char* why) {
  object[key] = nullptr;
  if (value)
    object[key] = make(*value);
  else
    reasons.explain(key, why);
}

Json agreement_body(const PairedAgreement& a, Reasons& reasons) {
  Json body = {{"pairs_count", a.pairs}, {"people_count", a.people}};
  const bool any = a.pairs > 0;
  const auto plain = [any](double value) { return any ? std::optional<double>(value) : std::nullopt; };
  put(body, reasons, "reference_mean_bpm", plain(a.reference_mean), 2, nothing);
  put(body, reasons, "test_mean_bpm", plain(a.test_mean), 2, nothing);
  put(body, reasons, "reference_low_bpm", plain(a.reference_low), 2, nothing);
  put(body, reasons, "reference_high_bpm", plain(a.reference_high), 2, nothing);
  body["bias_bpm"] = estimate(a.bias, 3, reasons, nothing);
  put_part(
      body, reasons, "limits_plain", a.plain, [&](const auto& l) { return limits_body(l, reasons); },
      "limits need two pairs");
  put_part(
      body, reasons, "limits_repeated", a.repeated,
      [&](const RepeatedLimits& r) {
        Json object = limits_body(r.limits, reasons);
        object["between_people_sd_bpm"] = json_number(std::sqrt(r.between_variance), 3);
        object["within_people_sd_bpm"] = json_number(std::sqrt(r.within_variance), 3);
        return object;
      },
      "repeated measures need two people, one of them with two pairs");
  put_part(
      body, reasons, "limits_ratio", a.ratio,
      [&](const RatioLimits& r) {
        return Json{{"ratio", estimate(r.ratio, 5, reasons, nothing)},
                    {"lower", estimate(r.lower, 5, reasons, nothing)},
                    {"upper", estimate(r.upper, 5, reasons, nothing)}};
      },
      "ratios need two pairs of positive rates");
  put_part(
      body, reasons, "trend", a.trend,
      [&](const TrendOfDifferences& t) {
        return Json{{"slope", estimate(t.slope, 5, reasons, nothing)},
                    {"slope_over_people", estimate(a.trend_slope, 5, reasons, nothing)},
                    {"intercept_bpm", json_number(t.intercept, 3)},
                    {"p", json_number(t.p, 5)},
                    {"spread_slope", estimate(t.spread_slope, 5, reasons, nothing)},
                    {"spread_intercept_bpm", json_number(t.spread_intercept, 3)},
                    {"spread_p", json_number(t.spread_p, 5)}};
      },
      "a trend needs three pairs whose means differ");
  body["mae_bpm"] = estimate(a.mean_absolute_error, 3, reasons, nothing);
  body["mape_percent"] = estimate(a.mean_absolute_percentage_error, 3, reasons, nothing);
  body["rmse_bpm"] = estimate(a.root_mean_square_error, 3, reasons, nothing);
  body["within_5_percent"] = estimate(a.within_5_percent, 2, reasons, nothing);
  body["within_10_percent"] = estimate(a.within_10_percent, 2, reasons, nothing);
  body["within_ec13_percent"] = estimate(a.within_ec13_percent, 2, reasons, nothing);
  constexpr const char* constant = "one of the two does not vary, or nothing was analysed";
  body["correlation"] = estimate(a.correlation, 4, reasons, constant);
  body["concordance"] = estimate(a.concordance_population, 4, reasons, constant);
  put(body, reasons, "concordance_sample", a.concordance_sample, 4, constant);
  put_part(
      body, reasons, "intraclass", a.intraclass,
      [&](const IntraclassCorrelations& icc) {
        constexpr const char* alike = "the two agree exactly";
        return Json{{"icc_1_1", estimate(icc.one_way, 4, reasons, alike)},
                    {"icc_2_1", estimate(icc.agreement, 4, reasons, alike)},
                    {"icc_3_1", estimate(icc.consistency, 4, reasons, alike)}};
      },
      "intraclass correlation needs three pairs and some spread");
  put_part(
      body, reasons, "equivalence", a.equivalence,
      [&](const Equivalence& e) {
        return Json{{"margin_bpm", json_number(e.margin, 3)},
                    {"bias_90_percent_bpm", estimate(e.bias, 3, reasons, nothing)},
                    {"p", json_number(e.p, 5)},
                    {"equivalent", e.equivalent},
                    {"units_count", e.units}};
      },
      "the equivalence test needs two pairs");
  body["with_interval_count"] = a.with_interval;
  body["interval_covers_percent"] =
      estimate(a.interval_covers_percent, 2, reasons, "the test gives no intervals of its own");
  put(body, reasons, "mean_interval_width_bpm", a.mean_interval_width, 2, "the test gives no intervals of its own");
  return body;
}

Json counts_body(const WindowCounts& c, Reasons& reasons) {
  Json body = {{"reference_count", c.reference},
               {"reference_answered_count", c.reference_answered},
               {"common_count", c.common},
               {"answered_count", c.answered}};
  put(body, reasons, "missing_percent", c.missing_percent(), 2, "no windows in common");
  return body;
}

Json alignment_body(const Alignment& a, Reasons& reasons) {
  Json body = {{"applied", to_string(a.applied)},
               {"refused", a.refused},
               {"note", a.note},
               {"offset_s", json_number(a.offset.value(), 3)},
               {"drift_ppm", json_number(a.drift_ppm, 2)}};
  const auto seconds = [](const std::optional<Seconds>& s) {
    return s ? std::optional<double>(s->value()) : std::nullopt;
  };
  constexpr const char* none = "no offset was looked for, or none was found";
  constexpr const char* no_drift = "no drift was looked for, or too little tells it";
  put(body, reasons, "found_offset_s", seconds(a.found_offset), 3, none);
  put(body, reasons, "offset_error_s", seconds(a.offset_error), 4, none);
  put(body, reasons, "found_drift_ppm", a.found_drift_ppm, 2, no_drift);
  put(body, reasons, "drift_error_ppm", a.drift_error_ppm, 2, no_drift);
  put(body, reasons, "gain_bpm", a.gain_bpm, 3, none);
  put(body, reasons, "gain_error_bpm", a.gain_error_bpm, 3, none);
  put(body, reasons, "correlation", a.correlation, 3, "not aligned");
  put(body, reasons, "correlation_before", a.correlation_before, 3, "not aligned, or a course does not vary");
  body["stretches"] = Json::array();
  for (const StretchOffset& s : a.stretches)
    body["stretches"].push_back(
        {{"at_s", json_number(s.at.value(), 1)}, {"offset_s", json_number(s.offset.value(), 4)}});
  return body;
}

Json record_body(const ComparedRecord& r, Reasons& reasons) {
  Json body = {{"name", r.facts.name},           {"person", r.facts.person},        {"condition", r.facts.condition},
               {"device", r.facts.device},       {"skin_tone", r.facts.skin_tone},  {"sex", r.facts.sex},
               {"criterion", r.facts.criterion}, {"reached", to_string(r.reached)}, {"left_out", r.left_out},
               {"one_clock", r.one_clock}};
  put(body, reasons, "bmi", r.facts.bmi, 1, "not stated");
  body["alignment"] = alignment_body(r.alignment, reasons);
  body["windows"] = counts_body(r.counts, reasons);
  body["common_s"] = json_number(r.common.value(), 3);
  put(body, reasons, "mae_before_bpm", r.before_mean_absolute_error, 3, "no pairs");
  put(body, reasons, "mae_found_bpm", error_with_alignment(r), 3, "no offset was looked for, or none was found");
  put(body, reasons, "mae_bpm", r.mean_absolute_error, 3, "no pairs");
  put(body, reasons, "bias_bpm", r.bias, 3, "no pairs");
  return body;
}

Json groups_body(std::span<const GroupAgreement> groups, Reasons& reasons) {
  Json list = Json::array();
  for (const GroupAgreement& group : groups)
    list.push_back({{"name", group.name},
                    {"recorded_count", group.recorded},
                    {"records_count", group.records},
                    {"windows", counts_body(group.counts, reasons)},
                    {"agreement", agreement_body(group.agreement, reasons)}});
  return list;
}

Json verdicts_body(const std::vector<Verdict>& verdicts, Reasons& reasons) {
  Json list = Json::array();
  for (const Verdict& v : verdicts) {
    Json entry = {{"rule", v.rule}, {"source", v.source}, {"needs", v.needs}, {"found", v.found}, {"met", nullptr}};
    if (v.met)
      entry["met"] = *v.met;
    else
      reasons.explain("met", "the study cannot say");
    list.push_back(std::move(entry));
  }
  return list;
}

}  // namespace

std::string study_csv(const RateStudy& study, const NumberStyle& style) {
  CsvTable table({"group",
                  "name",
                  "records_count",
                  "people_count",
                  "pairs_count",
                  "missing_percent",
                  "reference_mean_bpm",
                  "bias_bpm",
                  "sd_bpm",
                  "lower_limit_bpm",
                  "upper_limit_bpm",
                  "mae_bpm",
                  "mape_percent",
                  "rmse_bpm",
                  "within_5_percent",
                  "within_10_percent",
                  "within_ec13_percent",
                  "correlation",
                  "concordance",
                  "interval_covers_percent"},
                 style);
  for (const ComparedRecord& record : study.records) {
    const PairedOptions without_intervals{.margin = study.options.paired.margin, .seed = 1, .resamples = 0};
    add_row(table, "record", record.facts.name, 1, paired_agreement(record.pairs, without_intervals), record.counts);
  }
  for (const Breakdown& breakdown : study.breakdowns)
    for (const GroupAgreement& group : breakdown.groups)
      add_row(table, breakdown.by.c_str(), group.name, group.records, group.agreement, group.counts);
  add_row(table, "before_alignment", "", study.flow.analysed, study.before, std::nullopt);
  add_row(table, "overall", "", study.flow.analysed, study.overall, study.flow.windows);
  return table.take();
}

std::string study_pairs_csv(const RateStudy& study, const NumberStyle& style) {
  CsvTable table({"name", "person", "condition", "time_s", "reference_bpm", "test_bpm", "low_bpm", "high_bpm"}, style);
  for (const ComparedRecord& record : study.records) {
    if (record.reached != FlowStage::analysed) continue;
    for (const PairedValue& pair : record.pairs) {
      table.text(record.facts.name).text(record.facts.person).text(record.facts.condition);
      table.number(pair.time.value(), 3).number(pair.reference, 2).number(pair.test, 2);
      table.number(pair.low, 2).number(pair.high, 2).end_row();
    }
  }
  return table.take();
}

std::string study_json(const RateStudy& study, const Provenance& provenance) {
  Reasons reasons;
  Json body = {{"flow",
                {{"recorded_count", study.flow.recorded},
                 {"readable_count", study.flow.readable},
                 {"aligned_count", study.flow.aligned},
                 {"analysed_count", study.flow.analysed},
                 {"windows", counts_body(study.flow.windows, reasons)}}}};
  body["overall"] = agreement_body(study.overall, reasons);
  body["before_alignment"] = agreement_body(study.before, reasons);
  for (const auto& [key, column] : {std::pair{"conditions", "condition"},
                                    {"devices", "device"},
                                    {"skin_tones", "skin_tone"},
                                    {"sexes", "sex"},
                                    {"bmi_groups", "bmi"}})
    body[key] = groups_body(study.groups_by(column), reasons);
  body["verdicts"] = verdicts_body(study.verdicts, reasons);
  body["checklist"] = verdicts_body(study.checklist, reasons);
  body["records"] = Json::array();
  for (const ComparedRecord& record : study.records) body["records"].push_back(record_body(record, reasons));
  body["bootstrap"] = {{"seed", study.options.paired.seed}, {"resamples_count", study.options.paired.resamples}};
  return json_document("rate_comparison", body, reasons, study.warnings, provenance);
}

std::string plan_csv(const LimitsPlan& plan, const NumberStyle& style) {
  CsvTable table({"sd_bpm", "half_width_bpm", "needed_count", "approximate_count"}, style);
  table.number(plan.sd, 3).number(plan.half_width, 3).count(static_cast<std::int64_t>(plan.needed));
  table.count(static_cast<std::int64_t>(plan.approximate)).end_row();
  return table.take();
}

std::string plan_json(const LimitsPlan& plan, const Provenance& provenance) {
  const Json body = {{"sd_bpm", json_number(plan.sd, 3)},
                     {"half_width_bpm", json_number(plan.half_width, 3)},
                     {"needed_count", plan.needed},
                     {"approximate_count", plan.approximate}};
  return json_document("limits_plan", body, {}, {}, provenance);
}

}  // namespace pulsewright
