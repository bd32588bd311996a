#include "fact_groups.hpp"
#include "pulsewright/beat_study.hpp"
#include "pulsewright/error.hpp"

namespace pulsewright {

std::vector<BeatGroup> beat_groups(std::span<const RecordFacts> facts, std::span<const BeatAgreement> records) {
  if (facts.size() != records.size())
    throw Error{ErrorCode::contract, "beat_groups: as many facts as records are needed"};
  std::vector<const RecordFacts*> of_records;
  of_records.reserve(facts.size());
  for (const RecordFacts& one : facts) of_records.push_back(&one);
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

}  // namespace pulsewright
