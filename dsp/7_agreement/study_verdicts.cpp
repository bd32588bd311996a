#include "study_verdicts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <initializer_list>
#include <map>
#include <set>
#include <string_view>

namespace pulsewright {
namespace {

constexpr const char* ec13 = "ANSI/AAMI EC13 [from memory]";
constexpr const char* cta2065 = "ANSI/CTA-2065";
constexpr const char* muehlen = "Muehlen et al. 2021, Br J Sports Med, doi 10.1136/bjsports-2020-103148";

/// Mean absolute percentage error below this passes CTA-2065.
constexpr double cta_percent = 10.0;
/// Steady states last 2 to 5 minutes.
constexpr Seconds steady_least{120.0};
/// Rates that EC13 asks a meter for adults to show.
constexpr double ec13_lowest = 30, ec13_highest = 200;

std::string lower(std::string_view text) {
  std::string result(text);
  for (char& c : result) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return result;
}

bool names_one_of(const std::string& condition, std::initializer_list<std::string_view> words) {
  const std::string low = lower(condition);
  return std::any_of(words.begin(), words.end(), [&](std::string_view word) { return low.find(word) != low.npos; });
}

std::string people_counted(std::size_t count) { return fmt::format("{} {}", count, count == 1 ? "person" : "people"); }

std::vector<const ComparedRecord*> analysed(const RateStudy& study) {
  std::vector<const ComparedRecord*> records;
  for (const ComparedRecord& record : study.records)
    if (record.reached == FlowStage::analysed) records.push_back(&record);
  return records;
}

/// A point that asks for conditions of one kind.
Verdict asks_for_condition(const RateStudy& study, const char* rule, const char* needs,
                           std::initializer_list<std::string_view> words) {
  Verdict verdict{rule, muehlen, needs, "", std::nullopt};
  std::set<std::string> found;
  bool any_named = false;
  for (const ComparedRecord* record : analysed(study)) {
    any_named = any_named || !record->facts.condition.empty();
    if (names_one_of(record->facts.condition, words)) found.insert(record->facts.condition);
  }
  if (!any_named) {
    verdict.found = "no conditions are stated";
    return verdict;
  }
  verdict.met = !found.empty();
  for (const std::string& name : found) verdict.found += (verdict.found.empty() ? "" : ", ") + name;
  if (found.empty()) verdict.found = "none";
  return verdict;
}

/// A point that asks for a fact about every person.
Verdict asks_for_fact(const RateStudy& study, const char* rule, const char* needs, bool (*stated)(const RecordFacts&)) {
  Verdict verdict{rule, muehlen, needs, "", std::nullopt};
  std::map<std::size_t, bool> people;
  for (const ComparedRecord* record : analysed(study)) {
    bool& known = people.try_emplace(record->pairs.front().person, false).first->second;
    known = known || stated(record->facts);
  }
  const auto with = std::count_if(people.begin(), people.end(), [](const auto& entry) { return entry.second; });
  verdict.found = fmt::format("stated for {} of {}", with, people_counted(people.size()));
  if (!people.empty()) verdict.met = static_cast<std::size_t>(with) == people.size();
  return verdict;
}

Verdict asks_for_criterion(const RateStudy& study) {
  Verdict verdict{"criterion", muehlen, "the reference is an ECG or a chest strap", "", std::nullopt};
  std::set<std::string> kinds;
  bool all = true, unknown = false;
  for (const ComparedRecord* record : analysed(study)) {
    const std::string& kind = record->facts.criterion;
    if (kind.empty())
      unknown = true;
    else
      kinds.insert(kind);
    all = all && names_one_of(kind, {"ecg", "ekg", "chest strap", "chest_strap"});
  }
  for (const std::string& kind : kinds) verdict.found += (verdict.found.empty() ? "" : ", ") + kind;
  if (unknown) verdict.found += verdict.found.empty() ? "not stated" : "; for some not stated";
  if (!kinds.empty() && !unknown) verdict.met = all;
  return verdict;
}

Verdict asks_for_steady_states(const RateStudy& study) {
  Verdict verdict{"steady states", muehlen, "steady states of 2 to 5 min at each intensity", "", std::nullopt};
  const auto records = analysed(study);
  const auto enough =
      std::count_if(records.begin(), records.end(), [](const ComparedRecord* r) { return r->common >= steady_least; });
  verdict.found = fmt::format(
      "2 min or more in common in {} of {} records; whether the rate was steady is for the "
      "protocol to say",
      enough, records.size());
  if (!records.empty() && static_cast<std::size_t>(enough) < records.size()) verdict.met = false;
  return verdict;
}

Verdict asks_for_people(const RateStudy& study) {
  Verdict verdict{"people", muehlen, "a number of people that was planned for a wanted width of the limits", "",
                  std::nullopt};
  verdict.found = fmt::format("{} analysed", people_counted(study.overall.people));
  if (const auto& repeated = study.overall.repeated; repeated && repeated->limits.upper.high)
    verdict.found += fmt::format("; the interval of a limit is {:.1f} beats/min to either side at its wider end",
                                 *repeated->limits.upper.high - repeated->limits.upper.value);
  return verdict;
}

}  // namespace

std::vector<Verdict> accuracy_verdicts(const RateStudy& study) {
  Verdict meter{
      "EC13", ec13,
      "every rate within 10 % of the reference or 5 beats/min, whichever is greater, from 30 to 200 beats/min",
      "nothing was analysed", std::nullopt};
  Verdict wearable{"CTA-2065", cta2065, "mean absolute percentage error below 10 %", "nothing was analysed",
                   std::nullopt};
  const PairedAgreement& all = study.overall;
  if (all.within_ec13_percent) {
    meter.found = fmt::format("{:.2f} % of {} rates, the reference from {:.0f} to {:.0f} beats/min",
                              all.within_ec13_percent->value, all.pairs, all.reference_low, all.reference_high);
    const bool within = all.within_ec13_percent->value >= 100;
    const bool whole_range = all.reference_low <= ec13_lowest && all.reference_high >= ec13_highest;
    if (!within)
      meter.met = false;
    else if (whole_range)
      meter.met = true;
    else
      meter.found += "; met over that range, and the rest of it needs the bench test";
  }
  if (all.mean_absolute_percentage_error) {
    const double error = all.mean_absolute_percentage_error->value;
    wearable.found = fmt::format("{:.2f} %", error);
    wearable.met = error < cta_percent;
    for (const GroupAgreement& condition : study.groups_by("condition")) {
      const auto& own = condition.agreement.mean_absolute_percentage_error;
      if (own && own->value >= cta_percent) {
        wearable.met = false;
        wearable.found += fmt::format("; {:.2f} % in {}", own->value, condition.name);
      }
    }
  }
  return {meter, wearable};
}

std::vector<Verdict> study_checklist(const RateStudy& study) {
  return {asks_for_criterion(study),
          asks_for_condition(study, "walking", "walking at several intensities", {"walk"}),
          asks_for_condition(study, "running", "running at several intensities", {"run", "jog", "treadmill"}),
          asks_for_condition(study, "cycling", "cycling at several intensities", {"cycl", "bike"}),
          asks_for_condition(study, "transitions", "transitions between intensities", {"transition", "interval"}),
          asks_for_condition(study, "recovery", "recovery after exercise", {"recover"}),
          asks_for_steady_states(study),
          asks_for_people(study),
          asks_for_fact(study, "skin tone", "skin tone of every person",
                        [](const RecordFacts& f) { return !f.skin_tone.empty(); }),
          asks_for_fact(study, "body mass index", "body mass index of every person",
                        [](const RecordFacts& f) { return f.bmi.has_value(); }),
          asks_for_fact(study, "sex", "sex of every person", [](const RecordFacts& f) { return !f.sex.empty(); })};
}

}  // namespace pulsewright
