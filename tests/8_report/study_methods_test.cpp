/// The methods section of a study, read against the options of the run, value by value.
#include <gtest/gtest.h>

#include "pulsewright/agreement_report.hpp"
#include "pulsewright/clean.hpp"
#include "pulsewright/condition.hpp"

namespace pulsewright {
namespace {

RateStudy study_with(const StudyOptions& options) {
  RateStudy study;
  study.options = options;
  study.flow = {.recorded = 31, .readable = 29, .aligned = 28, .analysed = 27};
  study.flow.windows.common = 1234;
  study.flow.windows.answered = 987;
  study.overall.pairs = 986;
  study.overall.people = 23;
  ComparedRecord left;
  left.left_out = "the test has no rate in any window";
  study.records = {left, left};
  return study;
}

std::string paragraph(const StudyOptions& options) {
  Provenance provenance;
  provenance.input = "club.csv";
  provenance.options = "{\"seed\":5}";
  return study_methods(study_with(options), provenance).paragraph;
}

void expect_says(const std::string& text, const std::vector<std::string>& parts) {
  for (const std::string& part : parts) EXPECT_NE(text.find(part), std::string::npos) << part << "\nin: " << text;
}

std::string plain(double value) {
  std::string text = std::to_string(value);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

TEST(StudyMethods, NameEveryDefault) {
  const StudyOptions usual;
  const ConditionOptions filters;
  const CleanOptions limits;
  expect_says(paragraph(usual),
              {"slower than " + plain(filters.ecg_baseline.value()) + " Hz",
               "between " + plain(filters.pulse_baseline.value()) + " and " + plain(filters.pulse_top.value()) + " Hz",
               "gaps up to " + plain(filters.bridge.value()) + " s",
               "outside " + plain(limits.shortest.value()) + " to " + plain(limits.longest.value()) + " s",
               "windows of " + plain(usual.rates.window.value()) + " s every " + plain(usual.rates.step.value()) + " s",
               "was " + plain(usual.rates.least_confidence) + " or more",
               "at most " + plain(usual.rates.widest_bpm) + " beats/min wide",
               "up to " + plain(usual.alignment.farthest.value()) + " s from none",
               "at least " + plain(usual.alignment.least_correlation) + " needed",
               plain(usual.alignment.least_common.value()) + " s in common",
               "only in " + plain(usual.alignment.least_for_drift.value() / 60) + " min or more",
               "fewer than " + std::to_string(usual.fewest_pairs) + " windows",
               std::to_string(usual.paired.resamples) + " resamples",
               "(seed " + std::to_string(usual.paired.seed) + ")",
               "+-" + plain(usual.paired.margin) + " beats/min",
               version(),
               "club.csv",
               "{\"seed\":5}",
               "Of 31 records 29 could be read and 27 were analysed, with 986 pairs of 23 people",
               "of 1234 windows with a reference in common time 987 were answered",
               "Left out (2): the test has no rate in any window"});
}

TEST(StudyMethods, FollowTheOptionsOfTheRun) {
  StudyOptions own;
  own.rates = {Seconds{10}, Seconds{5}, 0.7, 25};
  own.alignment.steps = AlignmentSteps::offset;
  own.alignment.farthest = Seconds{45};
  own.alignment.only_where_demanded = false;
  own.keep_unaligned = false;
  own.fewest_pairs = 9;
  own.paired = {.margin = 3, .seed = 77, .resamples = 500};
  const std::string text = paragraph(own);
  expect_says(text, {"windows of 10 s every 5 s", "was 0.7 or more", "at most 25 beats/min wide",
                     "one offset was looked for", "up to 45 s", "What was found was applied", "were left out. ",
                     "fewer than 9 windows", "500 resamples", "(seed 77)", "+-3 beats/min"});
  EXPECT_EQ(text.find("drift"), std::string::npos);
  own.alignment.steps = AlignmentSteps::none;
  expect_says(paragraph(own), {"Clocks were taken as they are."});
}

TEST(StudyMethods, BringACitation) {
  const StudyMethods methods = study_methods(study_with({}), {});
  EXPECT_NE(methods.citation.find(version()), std::string::npos);
  EXPECT_EQ(methods.bibtex.rfind("@software{pulsewright,", 0), 0U);
  EXPECT_NE(methods.bibtex.find("version = {" + std::string(version()) + "}"), std::string::npos);
}

}  // namespace
}  // namespace pulsewright
