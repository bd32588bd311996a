#include <cstdint>

#include "8_report/text/csv_table.hpp"
#include "pulsewright/agreement_report.hpp"

namespace pulsewright {
namespace {

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
  CsvTable table({"name", "person", "condition", "time_s", "reference_bpm", "test_bpm", "low_bpm", "high_bpm",
                  "confidence", "method", "guess_bpm", "device", "skin_tone", "sex", "bmi"},
                 style);
  for (const ComparedRecord& record : study.records) {
    const RecordFacts& facts = record.facts;
    for (const StudyWindow& window : record.windows) {
      table.text(facts.name).text(facts.person.empty() ? facts.name : facts.person).text(facts.condition);
      table.number(window.time.value(), 3).number(window.reference, 2).number(window.test, 2);
      table.number(window.low, 2).number(window.high, 2).number(window.confidence, 3);
      table.text(window.test ? to_string(window.method) : "").number(window.guess, 2);
      table.text(facts.device).text(facts.skin_tone).text(facts.sex).number(facts.bmi, 1).end_row();
    }
  }
  return table.take();
}

}  // namespace pulsewright
