#include <fmt/format.h>

#include <algorithm>
#include <array>

#include <utility>

#include "8_report/study/study_figures.hpp"
#include "8_report/text/text_page.hpp"
#include "8_report/variability_measures.hpp"
#include "pulsewright/agreement_report.hpp"

namespace pulsewright {
namespace {

using Rows = std::vector<std::vector<std::string>>;

std::string shown(std::optional<double> value, int decimals) { return value ? format_number(*value, decimals) : "-"; }

std::string shown(const std::optional<Estimate>& e, int decimals) {
  return e ? format_number(e->value, decimals) : "-";
}

std::string limits(const PairedAgreement& a, int decimals) {
  const LimitsOfAgreement* l = limits_of(a);
  return l ? format_number(l->lower.value, decimals) + " to " + format_number(l->upper.value, decimals) : "-";
}

std::string with_interval(const std::optional<Estimate>& e, int decimals) {
  if (!e) return "none";
  std::string text = format_number(e->value, decimals);
  if (e->low && e->high)
    text += " (" + format_number(*e->low, decimals) + " to " + format_number(*e->high, decimals) + ")";
  return text;
}

void add_beats(TextPage& page, const IntervalGroup& g) {
  page.row("reference beats", fmt::format("{}", g.beats.true_positives + g.beats.false_negatives));
  page.row("missed", with_unit(shown(g.missed_percent(), 2), "%"));
  page.row("extra", with_unit(shown(g.extra_percent(), 2), "%"));
}

void add_intervals(TextPage& page, const PairedAgreement& a) {
  page.blank().heading(
      fmt::format("Intervals between the same beats: {} of {}, test minus reference in ms (95 % intervals in brackets)",
                  a.pairs, counted(static_cast<long long>(a.people), "person", "people")));
  page.row("bias", with_interval(a.bias, 2));
  if (const LimitsOfAgreement* l = limits_of(a)) {
    page.row("SD", format_number(l->sd, 2));
    page.row("lower limit", with_interval(l->lower, 2), a.repeated ? "several a person (Bland & Altman 2007)" : "");
    page.row("upper limit", with_interval(l->upper, 2));
  }
  page.row("mean absolute error", with_interval(a.mean_absolute_error, 2));
  page.row("root mean square error", with_interval(a.root_mean_square_error, 2));
}

void add_measures(TextPage& page, const IntervalGroup& g) {
  page.blank().heading(fmt::format("Variability over the {} at rest, test minus reference",
                                   counted(static_cast<long long>(g.at_rest), "record", "records")));
  Rows rows{{"measure", "records", "people", "reference", "bias", "limits", "concordance"}};
  for (const MeasureStudy& m : g.measures) {
    const PairedAgreement& a = m.agreement;
    rows.push_back({measure_label(m.measure), fmt::format("{}", a.pairs), fmt::format("{}", a.people),
                    a.pairs > 0 ? format_number(a.reference_mean, 2) : "-", shown(a.bias, 2), limits(a, 1),
                    shown(a.concordance_population, 3)});
  }
  page.table(rows);
}

std::vector<std::string> group_row(const IntervalGroup& g) {
  const auto rmssd =
      std::find_if(g.measures.begin(), g.measures.end(), [](const MeasureStudy& m) { return m.measure == "rmssd_ms"; });
  return {g.name,
          g.records == g.recorded ? fmt::format("{}", g.records) : fmt::format("{} of {}", g.records, g.recorded),
          fmt::format("{}", g.intervals.people),
          shown(g.missed_percent(), 2),
          shown(g.extra_percent(), 2),
          fmt::format("{}", g.intervals.pairs),
          shown(g.intervals.bias, 2),
          limits(g.intervals, 1),
          shown(rmssd->agreement.bias, 2),
          limits(rmssd->agreement, 1)};
}

void add_groups(TextPage& page, const char* title, const std::vector<IntervalGroup>& groups) {
  if (groups.size() < 2) return;  // one group is what the whole says
  page.blank().heading(title);
  Rows rows{{"", "records", "people", "missed %", "extra %", "intervals", "bias ms", "limits", "RMSSD bias", "limits"}};
  for (const IntervalGroup& group : groups) rows.push_back(group_row(group));
  page.table(rows);
}

void add_records(TextPage& page, const IntervalStudy& study) {
  page.blank().heading("Record for record");
  Rows rows{{"record", "delay s", "missed", "extra", "intervals", "bias ms", "limits", "at rest"}};
  for (const ComparedIntervals& r : study.records) {
    if (r.reached != FlowStage::analysed) continue;
    const IntervalAgreement& a = r.agreement;
    rows.push_back({r.facts.name, format_number(r.offset.value(), 3), fmt::format("{}", a.beats.false_negatives),
                    fmt::format("{}", a.beats.false_positives), fmt::format("{}", a.intervals.pairs),
                    shown(a.intervals.bias, 2), limits(a.intervals, 1), a.at_rest ? "yes" : "no"});
  }
  page.table(rows);
  for (const ComparedIntervals& r : study.records) {
    if (!r.left_out.empty()) page.paragraph(r.facts.name + " was left out: " + r.left_out);
    if (r.left_out.empty() && !r.note.empty()) page.paragraph(r.facts.name + ": " + r.note);
  }
}

}  // namespace

std::string interval_study_text(const IntervalStudy& study) {
  TextPage page;
  page.heading(fmt::format("Intervals against the reference, {} listed, {} readable, {} analysed",
                           counted(static_cast<long long>(study.records.size()), "record", "records"), study.readable,
                           study.overall.records));
  if (study.overall.records > 0) {
    add_beats(page, study.overall);
    add_intervals(page, study.overall.intervals);
    add_measures(page, study.overall);
  }
  constexpr std::array titles{std::pair{"condition", "By condition"}, std::pair{"device", "By device"},
                              std::pair{"skin_tone", "By skin tone"}, std::pair{"sex", "By sex"},
                              std::pair{"bmi", "By body mass index, kg/m2 (bounds of the WHO for adults)"}};
  for (const IntervalBreakdown& breakdown : study.breakdowns)
    for (const auto& [by, title] : titles)
      if (breakdown.by == by) add_groups(page, title, breakdown.groups);
  add_records(page, study);
  for (const Warning& warning : study.warnings) page.paragraph(warning.message + ".");
  return page.take();
}

}  // namespace pulsewright
