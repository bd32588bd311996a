#include <fmt/format.h>

#include <map>

#include "8_report/text/text_page.hpp"
#include "pulsewright/agreement_report.hpp"
#include "pulsewright/clean.hpp"
#include "pulsewright/condition.hpp"
#include "pulsewright/rate_track.hpp"

namespace pulsewright {
namespace {

/// Decimals only where there are some.
std::string plain(double value) { return fmt::format("{:g}", value); }

std::string rates_from(const StudyOptions& options) {
  const ConditionOptions filters;
  const CleanOptions limits;
  return fmt::format(
      "Signals of an ECG were freed of what is slower than {} Hz, those of an optical pulse kept between {} and {} Hz "
      "(Butterworth, forwards and backwards), gaps up to {} s bridged, and mains hum notched where it was found. "
      "Intervals between beats outside {} to {} s were never normal. "
      "Rates are 60 (N - 1) / (last - first) over the N beats in windows of {} s every {} s, or, of a pulse, from its "
      "spectrum over {} s every {} s where beats are absent, contradicted by it by more than 5 beats/min, or less "
      "sure. "
      "A rate was given where its probability of lying within 5 beats/min of the truth was {} or more and its 95 % "
      "interval at most {} beats/min wide. ",
      plain(filters.ecg_baseline.value()), plain(filters.pulse_baseline.value()), plain(filters.pulse_top.value()),
      plain(filters.bridge.value()), plain(limits.shortest.value()), plain(limits.longest.value()),
      plain(options.rates.window.value()), plain(options.rates.step.value()), plain(track_window.value()),
      plain(track_step.value()), plain(options.rates.least_confidence), plain(options.rates.widest_bpm));
}

std::string alignment(const StudyOptions& options) {
  const AlignmentOptions& a = options.alignment;
  if (a.steps == AlignmentSteps::none) return "Clocks were taken as they are. ";
  std::string text = fmt::format(
      "Where two devices were compared, {} was looked for up to {} s from none or from what their clocks say, by "
      "correlating the courses of rate freed of their running mean over 60 s (at least {} needed, and {} s in common) "
      "and a robust fit of the rates",
      a.steps == AlignmentSteps::offset ? "one offset" : "an offset and a drift", plain(a.farthest.value()),
      plain(a.least_correlation), plain(a.least_common.value()));
  if (a.steps == AlignmentSteps::offset_and_drift)
    text += fmt::format("; a drift only in {} min or more, and none beyond 500 ppm was accepted",
                        plain(a.least_for_drift.value() / 60));
  text +=
      a.only_where_demanded
          ? ". It was applied where it differed from none by more than two standard errors and did not make the mean "
            "absolute difference larger"
          : ". What was found was applied";
  text += options.keep_unaligned ? "; records that could not be aligned were compared as they are. "
                                 : "; records that could not be aligned were left out. ";
  return text;
}

std::string exclusions(const RateStudy& study) {
  const ExclusionFlow& flow = study.flow;
  std::string text = fmt::format(
      "Records with fewer than {} windows with a rate on both sides were left out. Of {} records {} could be read and "
      "{} "
      "were analysed, with {} pairs of {} people; of {} windows with a reference in common time {} were answered. ",
      study.options.fewest_pairs, flow.recorded, flow.readable, flow.analysed, study.overall.pairs,
      study.overall.people, flow.windows.common, flow.windows.answered);
  std::map<std::string, std::size_t> why;
  for (const ComparedRecord& record : study.records)
    if (!record.left_out.empty()) ++why[record.left_out];
  for (const auto& [reason, count] : why) text += fmt::format("Left out ({}): {}. ", count, reason);
  return text;
}

std::string statistics(const StudyOptions& options) {
  return fmt::format(
      "Differences are test minus reference. Limits of agreement are bias -+ 1.96 SD for several pairs a person (Bland "
      "& "
      "Altman 2007, J Biopharm Stat 17:571). Their 95 % intervals, and those of SDs, intraclass and concordance "
      "correlations and the root mean square error, are those of a population in which people's biases are normal, "
      "people's SDs log-normal with a half-normal prior of SD 1 on the SD of their logarithm, and neighbouring "
      "differences dependent as far as found, from 4000 evenly spread draws. The mixed model has people as a random "
      "intercept (restricted maximum likelihood), its intervals from leaving out one person at a time. Other intervals "
      "come from {} resamples of people (seed {}), with the percentiles of Hesterberg 2015 (Am Stat 69:371); all need "
      "five people. Equivalence was asked within +-{} beats/min by two one-sided tests on people's means (Schuirmann "
      "1987, J Pharmacokinet Biopharm 15:657). EC13 counts rates within 10 % or 5 beats/min. ",
      options.paired.resamples, options.paired.seed, plain(options.paired.margin));
}

}  // namespace

StudyMethods study_methods(const RateStudy& study, const Provenance& provenance) {
  StudyMethods methods;
  methods.paragraph = fmt::format("Heart rates were compared with pulsewright {} (input {}, options {}). ", version(),
                                  provenance.input, provenance.options.empty() ? "{}" : provenance.options) +
                      rates_from(study.options) + alignment(study.options) + exclusions(study) +
                      statistics(study.options);
  while (!methods.paragraph.empty() && methods.paragraph.back() == ' ') methods.paragraph.pop_back();
  methods.citation = fmt::format("pulsewright (version {}) [computer program].", version());
  methods.bibtex = fmt::format(
      "@software{{pulsewright,\n  title = {{pulsewright: heart rate and its variability from ECG and optical pulse}},\n"
      "  version = {{{}}}\n}}\n",
      version());
  return methods;
}

std::string study_methods_text(const RateStudy& study, const Provenance& provenance) {
  const StudyMethods methods = study_methods(study, provenance);
  TextPage page;
  page.heading("Methods, for a paper").paragraph(methods.paragraph);
  page.blank().paragraph(methods.citation);
  return page.take() + "\n" + methods.bibtex;
}

}  // namespace pulsewright
