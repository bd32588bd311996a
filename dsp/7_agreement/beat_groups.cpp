#include "fact_groups.hpp"
#include "pulsewright/beat_study.hpp"
#include "pulsewright/error.hpp"
#include "repeated_content.hpp"

namespace pulsewright {
namespace {

std::vector<const RecordFacts*> facts_of(std::span<const RecordFacts> facts, std::span<const BeatAgreement> records) {
  if (facts.size() != records.size())
    throw Error{ErrorCode::contract, "beats of a study: as many facts as records are needed"};
  std::vector<const RecordFacts*> of_records;
  of_records.reserve(facts.size());
  for (const RecordFacts& one : facts) of_records.push_back(&one);
  return of_records;
}

}  // namespace

std::vector<BeatGroup> beat_groups(std::span<const RecordFacts> facts, std::span<const BeatAgreement> records) {
  const std::vector<const RecordFacts*> of_records = facts_of(facts, records);
  std::vector<BeatGroup> groups;
  for (const FactColumn& column : fact_columns)
    for (const FactGroup& members : fact_groups(column, of_records)) {
      std::vector<BeatAgreement> inside;
      inside.reserve(members.records.size());
      for (const std::size_t i : members.records) inside.push_back(records[i]);
      groups.push_back({column.name, members.name, inside.size(), pool(inside, members.name)});
    }
  return groups;
}

Warnings beat_study_warnings(std::span<const RecordFacts> facts, std::span<const BeatAgreement> records) {
  return repeated_content(facts_of(facts, records), [&records](std::size_t i, std::size_t j) {
    const BeatAgreement &a = records[i], &b = records[j];
    return !a.error_ms.empty() && a.error_ms == b.error_ms && a.missed == b.missed && a.extra == b.extra;
  });
}

}  // namespace pulsewright
