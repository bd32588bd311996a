#include "study_model.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace pulsewright {
namespace {

using FactOf = std::string RecordFacts::*;
constexpr std::array<std::pair<const char*, FactOf>, 3> fixed_facts{
    {{"condition", &RecordFacts::condition}, {"device", &RecordFacts::device}, {"skin_tone", &RecordFacts::skin_tone}}};

/// The groups of a fact in the order in which they occur; none where a record does not state it.
std::vector<std::string> groups_of(const std::vector<const ComparedRecord*>& records, FactOf fact) {
  std::vector<std::string> groups;
  for (const ComparedRecord* record : records) {
    const std::string& name = record->facts.*fact;
    if (name.empty()) return {};
    if (std::find(groups.begin(), groups.end(), name) == groups.end()) groups.push_back(name);
  }
  return groups;
}

}  // namespace

std::optional<MixedModel> model_of(const std::vector<const ComparedRecord*>& records) {
  std::vector<double> differences;
  std::vector<std::size_t> people;
  for (const ComparedRecord* record : records)
    for (const PairedValue& pair : record->pairs) {
      differences.push_back(pair.test - pair.reference);
      people.push_back(pair.person);
    }
  std::vector<ModelColumn> columns;
  for (const auto& [word, fact] : fixed_facts) {
    const std::vector<std::string> groups = groups_of(records, fact);
    for (std::size_t g = 1; g < groups.size(); ++g) {
      ModelColumn column{std::string(word) + ": " + groups[g], {}};
      column.values.reserve(differences.size());
      for (const ComparedRecord* record : records)
        column.values.insert(column.values.end(), record->pairs.size(), record->facts.*fact == groups[g] ? 1.0 : 0.0);
      columns.push_back(std::move(column));
    }
  }
  if (columns.empty()) return std::nullopt;
  return mixed_model(differences, people, columns);
}

}  // namespace pulsewright
