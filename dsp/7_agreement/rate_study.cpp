#include "pulsewright/rate_study.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <tuple>

#include "fact_groups.hpp"
#include "pulsewright/study_warnings.hpp"
#include "repeated_content.hpp"
#include "study_groups.hpp"
#include "study_verdicts.hpp"

namespace pulsewright {
namespace {

/// Position of `name` among `names`, where it is put if it is new.
std::size_t position_of(std::vector<std::string>& names, const std::string& name) {
  const auto at = std::find(names.begin(), names.end(), name);
  if (at != names.end()) return static_cast<std::size_t>(at - names.begin());
  names.push_back(name);
  return names.size() - 1;
}

bool windows_overlap(const std::vector<const ComparedRecord*>& records) {
  // Windows are as long as the options say unless the reference brought its own; pairs closer than that share time.
  return std::any_of(records.begin(), records.end(), [](const ComparedRecord* record) {
    const auto& pairs = record->pairs;
    constexpr double usual_window_s = 8.0;
    return pairs.size() > 1 && (pairs[1].time - pairs[0].time).value() < usual_window_s - 1e-3;
  });
}

void warn(RateStudy& study, const std::vector<const ComparedRecord*>& records) {
  const auto say = [&study](const char* code, std::string message) {
    study.warnings.push_back({code, std::move(message)});
  };
  std::map<std::tuple<std::string, std::string, std::string>, int> seen;
  for (const ComparedRecord& record : study.records)
    if (!record.facts.person.empty()) ++seen[{record.facts.person, record.facts.condition, record.facts.device}];
  for (const auto& [key, count] : seen)
    if (count > 1)
      say("duplicated_records",
          fmt::format("{} occurs {} times with the same condition and device{}; is one of them a copy?",
                      std::get<0>(key), count, std::get<1>(key).empty() ? "" : " (" + std::get<1>(key) + ")"));
  std::vector<const RecordFacts*> facts;
  facts.reserve(records.size());
  for (const ComparedRecord* record : records) facts.push_back(&record->facts);
  for (Warning& warning : repeated_content(facts, [&records](std::size_t i, std::size_t j) {
         const auto &a = records[i]->pairs, &b = records[j]->pairs;
         return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const PairedValue& x, const PairedValue& y) {
           return x.time == y.time && x.reference == y.reference && x.test == y.test;
         });
       }))
    study.warnings.push_back(std::move(warning));
  const std::size_t left_out = study.records.size() - records.size();
  if (left_out > 0 && study.records.size() == 1)
    say("left_out", study.records.front().facts.name + " was left out: " + study.records.front().left_out);
  else if (left_out > 0)
    say("left_out",
        fmt::format("{} of {} records were left out; the reason stands beside each", left_out, study.records.size()));
  const std::size_t people = study.overall.people;
  if (people == 1)
    say("one_person",
        "There is one person only: intervals are those of this person's windows, and say nothing about others");
  else if (people > 1 && people < 5)
    say("few_people", fmt::format("There are {} people: no interval over people is given below five", people));
  if (windows_overlap(records))
    say("overlapping_windows",
        "Neighbouring windows share time and are no independent measurements: the plain limits' intervals and the p "
        "values of trends are too "
        "narrow; those over people are not");
  const auto unaligned =
      std::count_if(records.begin(), records.end(), [](const auto* r) { return r->alignment.refused; });
  if (unaligned > 0)
    say("unaligned_records", fmt::format("{} of {} analysed records could not be aligned and are compared as they are",
                                         unaligned, records.size()));
  for (const ComparedRecord* record : records)
    if (record->alignment.clocks != StatedClocks::unstated)
      say(record->alignment.clocks == StatedClocks::followed ? "by_clocks" : "clocks_contradicted",
          record->facts.name + ": " + record->alignment.note);
  for (const ComparedRecord* record : records) {
    const auto constant = [record](double PairedValue::*side) {
      return std::all_of(record->pairs.begin(), record->pairs.end(),
                         [&](const PairedValue& p) { return p.*side == record->pairs.front().*side; });
    };
    const bool test = constant(&PairedValue::test), reference = constant(&PairedValue::reference);
    if (test && reference)
      say("constant_series", record->facts.name + ": both show the same rate throughout, which tells little");
    else if (test)
      say("constant_series", record->facts.name + ": the test shows the same rate throughout; does it work?");
    else if (reference)
      say("constant_series", record->facts.name + ": the reference shows the same rate throughout");
  }
}

}  // namespace

RateStudy rate_study(std::vector<ComparedRecord> records, const StudyOptions& options) {
  RateStudy study;
  study.options = options;
  std::vector<const RecordFacts*> facts;
  facts.reserve(records.size());
  for (const ComparedRecord& record : records) facts.push_back(&record.facts);
  PeopleOfRecords people = people_of(facts);
  std::vector<std::string> conditions;
  for (std::size_t i = 0; i < records.size(); ++i) {
    const std::size_t condition = position_of(conditions, records[i].facts.condition);
    for (auto* pairs : {&records[i].before, &records[i].pairs})
      for (PairedValue& pair : *pairs) {
        pair.person = people.person[i];
        pair.condition = condition;
      }
  }
  study.people = std::move(people.names);
  study.records = std::move(records);

  std::vector<const ComparedRecord*> analysed;
  study.flow.recorded = study.records.size();
  for (const ComparedRecord& record : study.records) {
    study.flow.readable += record.reached >= FlowStage::readable ? 1 : 0;
    study.flow.aligned += record.reached >= FlowStage::aligned ? 1 : 0;
    add_counts(study.flow.windows, record.counts);
    if (record.reached == FlowStage::analysed) analysed.push_back(&record);
  }
  study.flow.analysed = analysed.size();
  study.before = paired_agreement(pooled(analysed, &ComparedRecord::before), options.paired);
  study.overall = paired_agreement(pooled(analysed, &ComparedRecord::pairs), options.paired);
  study.breakdowns = breakdowns_of(study.records, options.paired);
  study.verdicts = accuracy_verdicts(study);
  study.checklist = study_checklist(study);
  warn(study, analysed);
  std::vector<InputWarnings> inputs;
  inputs.reserve(study.records.size());
  for (const auto& record : study.records) inputs.push_back({record.facts.name, record.warnings});
  for (Warning& warning : warnings_of_inputs(inputs)) study.warnings.push_back(std::move(warning));
  return study;
}

}  // namespace pulsewright
