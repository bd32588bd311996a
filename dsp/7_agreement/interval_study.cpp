#include "pulsewright/interval_study.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "fact_groups.hpp"
#include "pulsewright/study_warnings.hpp"
#include "repeated_content.hpp"

namespace pulsewright {
namespace {

std::optional<double> share(std::int64_t part, std::int64_t whole) {
  if (whole == 0) return std::nullopt;
  return 100.0 * static_cast<double>(part) / static_cast<double>(whole);
}

/// Puts the records at `positions` together; `person` says whose each record of the study is.
IntervalGroup group_of(const std::vector<ComparedIntervals>& records, const std::vector<std::size_t>& positions,
                       const std::vector<std::size_t>& person, const PairedOptions& options) {
  IntervalGroup group;
  group.recorded = positions.size();
  std::vector<BeatAgreement> beats;
  std::vector<PairedValue> intervals;
  std::array<std::vector<PairedValue>, compared_measures.size()> measures;
  for (const std::size_t i : positions) {
    const ComparedIntervals& record = records[i];
    if (record.reached != FlowStage::analysed) continue;
    ++group.records;
    beats.push_back(record.agreement.beats);
    for (PairedValue pair : record.agreement.pairs) {
      pair.person = person[i];
      intervals.push_back(pair);
    }
    if (!record.agreement.at_rest) continue;
    ++group.at_rest;
    for (std::size_t m = 0; m < measures.size(); ++m)
      if (const MeasureAgreement& both = record.agreement.measures[m]; both.difference)
        measures[m].push_back({.reference = *both.reference, .test = *both.test, .person = person[i]});
  }
  group.beats = pool(beats, "");
  group.intervals = paired_agreement(intervals, options);
  for (std::size_t m = 0; m < measures.size(); ++m)
    group.measures.push_back({compared_measures[m], paired_agreement(measures[m], options)});
  return group;
}

void warn(IntervalStudy& study) {
  const auto say = [&study](const char* code, std::string message) {
    study.warnings.push_back({code, std::move(message)});
  };
  if (const std::size_t left_out = study.records.size() - study.overall.records; left_out > 0)
    say("left_out",
        fmt::format("{} of {} records were left out; the reason stands beside each", left_out, study.records.size()));
  std::vector<const ComparedIntervals*> analysed;
  std::vector<const RecordFacts*> facts;
  for (const ComparedIntervals& record : study.records)
    if (record.reached == FlowStage::analysed) {
      analysed.push_back(&record);
      facts.push_back(&record.facts);
    }
  for (Warning& warning : repeated_content(facts, [&analysed](std::size_t i, std::size_t j) {
         const auto &a = analysed[i]->agreement.pairs, &b = analysed[j]->agreement.pairs;
         return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const PairedValue& x, const PairedValue& y) {
           return x.reference == y.reference && x.test == y.test;
         });
       }))
    study.warnings.push_back(std::move(warning));
  const std::size_t people = study.overall.intervals.people;
  if (people == 1)
    say("one_person", "There is one person only: intervals are those of this person, and say nothing about others");
  else if (people > 1 && people < 5)
    say("few_people", fmt::format("There are {} people: no interval over people is given below five", people));
  if (const std::size_t moving = study.overall.records - study.overall.at_rest; moving > 0)
    say("not_at_rest",
        fmt::format("{} of {} analysed records were not taken at rest: agreement of variability measures "
                    "is stated for rest only, and leaves them out",
                    moving, study.overall.records));
  const auto has = [](const ComparedIntervals& record, const char* code) {
    return std::any_of(record.agreement.warnings.begin(), record.agreement.warnings.end(),
                       [code](const Warning& w) { return w.code == code; });
  };
  for (const ComparedIntervals& record : study.records)
    if (has(record, "pulse_transit")) {
      const auto& warnings = record.agreement.warnings;
      study.warnings.push_back(
          *std::find_if(warnings.begin(), warnings.end(), [](const Warning& w) { return w.code == "pulse_transit"; }));
      break;
    }
  for (const ComparedIntervals& record : study.records)
    for (const Warning& warning : record.agreement.warnings)
      if (warning.code == "by_clocks" || warning.code == "clocks_contradicted") study.warnings.push_back(warning);
  const auto unaligned = std::count_if(study.records.begin(), study.records.end(), [](const ComparedIntervals& r) {
    return r.reached == FlowStage::analysed && !r.note.empty();
  });
  if (unaligned > 0)
    say("unaligned_records",
        fmt::format(
            "{} of {} analysed records could not be aligned by their rates, and are compared as if on one clock",
            unaligned, study.overall.records));
}

}  // namespace

std::optional<double> IntervalGroup::missed_percent() const {
  return share(beats.false_negatives, beats.true_positives + beats.false_negatives);
}

std::optional<double> IntervalGroup::extra_percent() const {
  return share(beats.false_positives, beats.true_positives + beats.false_positives);
}

IntervalStudy interval_study(std::vector<ComparedIntervals> records, const IntervalStudyOptions& options) {
  IntervalStudy study;
  study.options = options;
  study.records = std::move(records);
  std::vector<const RecordFacts*> facts;
  std::vector<std::size_t> all;
  for (const ComparedIntervals& record : study.records) {
    all.push_back(facts.size());
    facts.push_back(&record.facts);
    study.readable += record.reached >= FlowStage::readable ? 1 : 0;
  }
  PeopleOfRecords people = people_of(facts);
  study.people = std::move(people.names);
  study.overall = group_of(study.records, all, people.person, options.paired);
  for (const FactColumn& column : fact_columns) {
    IntervalBreakdown breakdown{column.name, {}};
    for (const FactGroup& members : fact_groups(column, facts)) {
      breakdown.groups.push_back(group_of(study.records, members.records, people.person, options.paired));
      breakdown.groups.back().name = members.name;
    }
    study.breakdowns.push_back(std::move(breakdown));
  }
  warn(study);
  std::vector<InputWarnings> inputs;
  inputs.reserve(study.records.size());
  for (const auto& record : study.records) inputs.push_back({record.facts.name, record.warnings});
  for (Warning& warning : warnings_of_inputs(inputs)) study.warnings.push_back(std::move(warning));
  return study;
}

}  // namespace pulsewright
