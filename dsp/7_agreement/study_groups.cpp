#include "study_groups.hpp"

#include <algorithm>
#include <array>

namespace pulsewright {
namespace {

struct BmiClass {
  const char* name;
  double below;
};
constexpr std::array<BmiClass, 4> bmi_classes{{{"<18.5", 18.5}, {"18.5-<25", 25}, {"25-<30", 30}, {">=30", 1e9}}};

struct Column {
  const char* name;
  std::string (*of)(const RecordFacts&);
};
constexpr std::array<Column, 5> columns{
    {{"condition", [](const RecordFacts& f) { return f.condition; }},
     {"device", [](const RecordFacts& f) { return f.device; }},
     {"skin_tone", [](const RecordFacts& f) { return f.skin_tone; }},
     {"sex", [](const RecordFacts& f) { return f.sex; }},
     {"bmi", [](const RecordFacts& f) { return f.bmi ? bmi_group(*f.bmi) : std::string(); }}}};

struct Members {
  std::string name;
  std::vector<const ComparedRecord*> all, analysed;
};

/// Position among the classes of body mass index; the same for all other names.
std::size_t class_of(const std::string& name) {
  const auto* at =
      std::find_if(bmi_classes.begin(), bmi_classes.end(), [&](const BmiClass& c) { return name == c.name; });
  return static_cast<std::size_t>(at - bmi_classes.begin());
}

std::vector<Members> members_by(const Column& column, const std::vector<ComparedRecord>& records) {
  std::vector<Members> groups;
  for (const ComparedRecord& record : records) {
    const std::string name = column.of(record.facts);
    if (name.empty()) continue;
    auto group = std::find_if(groups.begin(), groups.end(), [&](const Members& m) { return m.name == name; });
    if (group == groups.end()) group = groups.insert(group, Members{name, {}, {}});
    group->all.push_back(&record);
    if (record.reached == FlowStage::analysed) group->analysed.push_back(&record);
  }
  std::stable_sort(groups.begin(), groups.end(),
                   [](const Members& a, const Members& b) { return class_of(a.name) < class_of(b.name); });
  return groups;
}

}  // namespace

std::string bmi_group(double bmi) {
  return std::find_if(bmi_classes.begin(), bmi_classes.end() - 1, [bmi](const BmiClass& c) { return bmi < c.below; })
      ->name;
}

void add_counts(WindowCounts& sum, const WindowCounts& counts) {
  sum.reference += counts.reference;
  sum.reference_answered += counts.reference_answered;
  sum.common += counts.common;
  sum.answered += counts.answered;
}

std::vector<PairedValue> pooled(const std::vector<const ComparedRecord*>& records,
                                std::vector<PairedValue> ComparedRecord::*pairs) {
  std::vector<PairedValue> all;
  for (const ComparedRecord* record : records) all.insert(all.end(), (record->*pairs).begin(), (record->*pairs).end());
  return all;
}

std::vector<Breakdown> breakdowns_of(const std::vector<ComparedRecord>& records, const PairedOptions& options) {
  std::vector<Breakdown> result;
  result.reserve(columns.size());
  for (const Column& column : columns) {
    Breakdown breakdown{column.name, {}};
    for (const Members& members : members_by(column, records)) {
      GroupAgreement group;
      group.name = members.name;
      group.recorded = members.all.size();
      group.records = members.analysed.size();
      group.agreement = paired_agreement(pooled(members.analysed, &ComparedRecord::pairs), options);
      for (const ComparedRecord* record : members.all) add_counts(group.counts, record->counts);
      breakdown.groups.push_back(std::move(group));
    }
    result.push_back(std::move(breakdown));
  }
  return result;
}

std::span<const GroupAgreement> RateStudy::groups_by(std::string_view column) const {
  for (const Breakdown& breakdown : breakdowns)
    if (breakdown.by == column) return breakdown.groups;
  return {};
}

}  // namespace pulsewright
