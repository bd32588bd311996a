#include "study_groups.hpp"

#include "fact_groups.hpp"

namespace pulsewright {
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
  std::vector<const RecordFacts*> facts;
  facts.reserve(records.size());
  for (const ComparedRecord& record : records) facts.push_back(&record.facts);
  std::vector<Breakdown> result;
  result.reserve(fact_columns.size());
  for (const FactColumn& column : fact_columns) {
    Breakdown breakdown{column.name, {}};
    for (const FactGroup& members : fact_groups(column, facts)) {
      GroupAgreement group;
      group.name = members.name;
      group.recorded = members.records.size();
      std::vector<const ComparedRecord*> analysed;
      for (const std::size_t i : members.records) {
        add_counts(group.counts, records[i].counts);
        if (records[i].reached == FlowStage::analysed) analysed.push_back(&records[i]);
      }
      group.records = analysed.size();
      group.agreement = paired_agreement(pooled(analysed, &ComparedRecord::pairs), options);
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
