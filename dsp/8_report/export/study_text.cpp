#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <span>
#include <utility>

#include "8_report/alignment_outcome.hpp"
#include "8_report/text/text_page.hpp"
#include "pulsewright/agreement_report.hpp"

namespace pulsewright {
namespace {

std::string number(std::optional<double> value, int decimals) {
  return value ? format_number(value, decimals) : "none";
}

/// `1.20 (0.90 to 1.50)`; without the brackets where there is no interval.
std::string with_interval(const std::optional<Estimate>& e, int decimals, const char* unit) {
  if (!e) return "none";
  std::string text = format_number(e->value, decimals);
  if (*unit != '\0') text += std::string(" ") + unit;
  if (e->low && e->high)
    text += " (" + format_number(*e->low, decimals) + " to " + format_number(*e->high, decimals) + ")";
  return text;
}

std::string p_value(double p) { return p < 0.001 ? "p < 0.001" : "p = " + format_number(p, 3); }

const char* unit_bpm = "beats/min";

void add_flow(TextPage& page, const RateStudy& study) {
  page.blank().heading("Flow of exclusions");
  const auto row = [&page](const char* label, std::size_t count, const char* note) {
    page.row(label, counted(static_cast<long long>(count), "record", "records"), note);
  };
  row("recorded", study.flow.recorded, "listed");
  row("readable", study.flow.readable, "both sides could be read and have a rate");
  row("aligned", study.flow.aligned, "one clock, aligned, or compared as they are");
  row("analysed", study.flow.analysed, "enough windows with a rate on both sides");
  const WindowCounts& w = study.flow.windows;
  page.row("windows", fmt::format("{}", w.reference), "of the reference");
  page.row("with a reference", fmt::format("{}", w.reference_answered));
  page.row("in common time", fmt::format("{}", w.common));
  page.row("answered", fmt::format("{}", w.answered), "by the test as well: the pairs");
  page.row("missing", with_unit(number(w.missing_percent(), 1), "%"), "of the windows in common time");
  for (const ComparedRecord& record : study.records)
    if (!record.left_out.empty()) page.paragraph(record.facts.name + " was left out: " + record.left_out);
}

/// What was found, with its standard error; nothing where none was looked for.
std::string found(const std::optional<double>& value, const std::optional<double>& error, int decimals) {
  if (!value) return "-";
  return format_number(*value, decimals) + (error ? " +- " + format_number(*error, decimals) : "");
}

std::optional<double> seconds(const std::optional<Seconds>& s) { return s ? std::optional(s->value()) : std::nullopt; }

std::string words_of(const ComparedRecord& record) {
  std::string words = alignment_outcome(record);
  std::replace(words.begin(), words.end(), '_', ' ');
  return words;
}

void add_alignment_table(TextPage& page, const RateStudy& study) {
  std::vector<std::vector<std::string>> rows{
      {"record", "applied", "offset found s", "drift ppm", "correlation", "MAE as is", "MAE with it"}};
  std::size_t left = 0;
  for (const ComparedRecord& r : study.records) {
    const Alignment& a = r.alignment;
    const auto with_it = error_with_alignment(r);
    rows.push_back({r.facts.name, words_of(r), found(seconds(a.found_offset), seconds(a.offset_error), 2),
                    found(a.found_drift_ppm, a.drift_error_ppm, 1),
                    a.correlation ? format_number(*a.correlation, 2) : "-", number(r.before_mean_absolute_error, 2),
                    with_it ? format_number(*with_it, 2) : "-"});
    left += rows.back()[1] == "not demanded" ? 1 : 0;
  }
  page.table(rows);
  if (left > 0)
    page.paragraph(fmt::format(
        "Of {} the offset found is not applied: it may be none, or bring the two no nearer to each other than chance "
        "would. --any-offset applies it.",
        counted(static_cast<long long>(left), "record", "records")));
}

void add_alignment(TextPage& page, const RateStudy& study) {
  page.blank().heading("Alignment (standard errors behind +-)");
  if (study.records.size() > 1) {
    add_alignment_table(page, study);
  } else if (!study.records.empty()) {
    const ComparedRecord& r = study.records.front();
    const Alignment& a = r.alignment;
    page.row("applied", words_of(r));
    page.row("offset found", found(seconds(a.found_offset), seconds(a.offset_error), 2) + " s",
             "test's clock minus reference's, with its delay, at the middle");
    page.row("drift found", a.found_drift_ppm ? found(a.found_drift_ppm, a.drift_error_ppm, 1) + " ppm" : "none");
    page.row("correlation",
             number(a.correlation_before, 2) + " as is, " + number(a.correlation, 2) + " at the best offset");
    page.row("MAE", number(r.before_mean_absolute_error, 2) + " as is, " + number(error_with_alignment(r), 2) +
                        " beats/min with what was found");
  }
  for (const ComparedRecord& r : study.records)
    if (!r.alignment.note.empty() && !r.one_clock && (r.alignment.refused || study.records.size() == 1))
      page.paragraph(r.facts.name + ": " + (r.alignment.refused ? "not aligned, because " : "") + r.alignment.note);
}

void add_limits(TextPage& page, const LimitsOfAgreement& l) {
  page.row("bias", with_interval(l.bias, 2, unit_bpm));
  page.row("SD", with_unit(format_number(l.sd, 2), unit_bpm));
  page.row("lower limit", with_interval(l.lower, 2, unit_bpm));
  page.row("upper limit", with_interval(l.upper, 2, unit_bpm));
}

void add_agreement(TextPage& page, const RateStudy& study) {
  const PairedAgreement& a = study.overall;
  page.blank().heading(fmt::format("Agreement of {} pairs of {}, test minus reference (95 % intervals in brackets)",
                                   a.pairs, counted(static_cast<long long>(a.people), "person", "people")));
  page.row("reference", number(a.reference_mean, 1) + " beats/min",
           fmt::format("mean; from {} to {}", format_number(a.reference_low, 0), format_number(a.reference_high, 0)));
  if (a.repeated) {
    page.blank().heading("Limits of agreement, several pairs a person (Bland & Altman 2007)");
    add_limits(page, a.repeated->limits);
    page.row("between people", with_unit(format_number(std::sqrt(a.repeated->between_variance), 2), unit_bpm),
             "SD of people's own biases");
    page.row("within people", with_unit(format_number(std::sqrt(a.repeated->within_variance), 2), unit_bpm),
             "SD around them");
  }
  if (a.plain) {
    page.blank().heading("Limits of agreement, pairs taken as independent (exact intervals)");
    add_limits(page, *a.plain);
  }
  page.blank().heading("Errors (intervals over people)");
  page.row("bias", with_interval(a.bias, 2, unit_bpm));
  page.row("mean absolute error", with_interval(a.mean_absolute_error, 2, unit_bpm));
  page.row("mean absolute percentage error", with_interval(a.mean_absolute_percentage_error, 2, "%"));
  page.row("root mean square error", with_interval(a.root_mean_square_error, 2, unit_bpm));
  page.row("within 5 beats/min", with_interval(a.within_5_percent, 1, "%"));
  page.row("within 10 beats/min", with_interval(a.within_10_percent, 1, "%"));
  page.row("within EC13", with_interval(a.within_ec13_percent, 1, "%"), "10 % or 5 beats/min, whichever is greater");
  if (a.with_interval > 0)
    page.row("test's own intervals", with_interval(a.interval_covers_percent, 1, "%"),
             fmt::format("hold the reference; {} pairs have one, {} beats/min wide on average", a.with_interval,
                         number(a.mean_interval_width, 1)));
  page.blank().heading("Trends");
  if (a.trend) {
    page.row("bias with the rate", with_interval(a.trend->slope, 4, ""),
             p_value(a.trend->p) + "; per beat/min of the mean, pairs independent");
    page.row("the same over people", with_interval(a.trend_slope, 4, ""));
    page.row("spread with the rate", with_interval(a.trend->spread_slope, 4, ""),
             p_value(a.trend->spread_p) + "; of the absolute residuals");
    for (const double rate : {a.reference_low, a.reference_high}) {
      const double half = a.trend->half_width_at(rate), middle = a.trend->bias_at(rate);
      page.row(
          "limits at " + format_number(rate, 0),
          half > 0 ? format_number(middle - half, 1) + " to " + format_number(middle + half, 1) + " beats/min" : "none",
          half > 0 ? "by regression (Bland & Altman 1999)" : "the fitted spread is not positive there");
    }
  }
  if (a.ratio)
    page.row("limits as ratios",
             format_number(a.ratio->lower.value, 3) + " to " + format_number(a.ratio->upper.value, 3),
             "test / reference, from logarithms");
  page.blank().heading("Correlation of two kinds");
  page.row("Pearson r", with_interval(a.correlation, 3, ""), "how well they go together, which is not agreement");
  page.row("concordance", with_interval(a.concordance_population, 3, ""), "Lin 1989");
  if (a.intraclass) {
    page.row("ICC(1,1)", with_interval(a.intraclass->one_way, 3, ""), "one way");
    page.row("ICC(2,1)", with_interval(a.intraclass->agreement, 3, ""), "two ways, agreement");
    page.row("ICC(3,1)", with_interval(a.intraclass->consistency, 3, ""), "two ways, consistency");
  }
  if (a.equivalence) {
    page.blank().heading("Equivalence");
    page.row("within +- " + format_number(a.equivalence->margin, 1), a.equivalence->equivalent ? "yes" : "not shown",
             p_value(a.equivalence->p) + fmt::format("; two one-sided tests on {} {}", a.equivalence->units,
                                                     a.people > 1 ? "people's means" : "differences"));
    page.row("bias, 90 % interval", with_interval(a.equivalence->bias, 2, unit_bpm));
  }
}

void add_groups(TextPage& page, const char* title, std::span<const GroupAgreement> groups) {
  if (groups.size() < 2) return;  // one group is what the whole says
  page.blank().heading(title);
  std::vector<std::vector<std::string>> rows{
      {"", "records", "people", "pairs", "missing %", "bias", "limits", "MAE", "MAPE %", "within 5 %", "EC13 %"}};
  for (const GroupAgreement& g : groups) {
    const PairedAgreement& a = g.agreement;
    const LimitsOfAgreement* l = a.repeated ? &a.repeated->limits : a.plain ? &*a.plain : nullptr;
    const auto value = [](const std::optional<Estimate>& e, int d) {
      return e ? format_number(e->value, d) : std::string("-");
    };
    rows.push_back(
        {g.name,
         g.records == g.recorded ? fmt::format("{}", g.records) : fmt::format("{} of {}", g.records, g.recorded),
         fmt::format("{}", a.people), fmt::format("{}", a.pairs), number(g.counts.missing_percent(), 1),
         value(a.bias, 2), l ? format_number(l->lower.value, 1) + " to " + format_number(l->upper.value, 1) : "-",
         value(a.mean_absolute_error, 2), value(a.mean_absolute_percentage_error, 2), value(a.within_5_percent, 1),
         value(a.within_ec13_percent, 1)});
  }
  page.table(rows);
}

const char* said(const std::optional<bool>& met) { return !met ? "cannot say" : *met ? "yes" : "no"; }

void add_verdicts(TextPage& page, const char* title, const std::vector<Verdict>& verdicts) {
  page.blank().heading(title);
  for (const Verdict& v : verdicts) {
    page.row(v.rule, said(v.met), v.found);
  }
  for (const Verdict& v : verdicts) page.paragraph(v.rule + " needs: " + v.needs);
}

}  // namespace

std::string study_text(const RateStudy& study) {
  TextPage page;
  page.heading(study.records.size() == 1
                   ? "Heart rate of " + study.records.front().facts.name + " against the reference"
                   : fmt::format("Heart rate against the reference, {} records", study.records.size()));
  if (study.flow.analysed > 0)
    add_agreement(page, study);
  else
    page.paragraph("Nothing could be analysed; why stands under \"Flow of exclusions\".");
  for (const auto& [title, column] : {std::pair{"By condition", "condition"},
                                      {"By device", "device"},
                                      {"By skin tone", "skin_tone"},
                                      {"By sex", "sex"},
                                      {"By body mass index, kg/m2 (bounds of the WHO for adults)", "bmi"}})
    add_groups(page, title, study.groups_by(column));
  add_alignment(page, study);
  add_verdicts(page, "Rules of accuracy", study.verdicts);
  page.blank().heading("How a study should be made (Muehlen et al. 2021)");
  for (const Verdict& v : study.checklist) page.row(v.rule, said(v.met), v.found);
  add_flow(page, study);
  return page.take();
}

std::string plan_text(const LimitsPlan& plan) {
  TextPage page;
  page.heading("Independent differences for a wanted width of the limits of agreement");
  page.row("SD of differences", with_unit(format_number(plan.sd, 2), unit_bpm), "expected");
  page.row("wanted", "+- " + format_number(plan.half_width, 2) + " beats/min", "half the 95 % interval of a limit");
  page.row("needed", fmt::format("{}", plan.needed), "exact, for a sample with that SD");
  page.row("rule of thumb", fmt::format("{}", plan.approximate), "3 SD^2 / n (Bland & Altman 1986)");
  page.paragraph(
      "Several windows of one person are not independent: count people, and take the SD of a single window of a "
      "person.");
  return page.take();
}

}  // namespace pulsewright
