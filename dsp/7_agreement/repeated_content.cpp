#include "repeated_content.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <tuple>

namespace pulsewright {
namespace {

auto listed_as(const RecordFacts& facts) {
  // A record without a code is a person of its own.
  return std::tuple(facts.person, facts.person.empty() ? facts.name : std::string(), facts.condition, facts.device);
}

std::string people_among(const std::vector<const RecordFacts*>& records) {
  constexpr std::size_t most_named = 5;
  std::vector<std::string> names;
  for (const RecordFacts* facts : records) {
    const std::string& name = facts->person.empty() ? facts->name : facts->person;
    if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
  }
  std::string list;
  for (std::size_t i = 0; i < std::min(names.size(), most_named); ++i) list += (i == 0 ? "" : ", ") + names[i];
  return names.size() > most_named ? fmt::format("{} and {} more", list, names.size() - most_named) : list;
}

}  // namespace

Warnings repeated_content(const std::vector<const RecordFacts*>& records,
                          const std::function<bool(std::size_t, std::size_t)>& same) {
  Warnings warnings;
  std::vector<bool> told(records.size());
  for (std::size_t i = 0; i < records.size(); ++i) {
    if (told[i]) continue;
    std::vector<const RecordFacts*> alike{records[i]};
    for (std::size_t j = i + 1; j < records.size(); ++j) {
      if (told[j] || !same(i, j)) continue;
      told[j] = true;
      alike.push_back(records[j]);
    }
    const bool listed_once = std::all_of(alike.begin(), alike.end(), [&](const RecordFacts* facts) {
      return listed_as(*facts) == listed_as(*alike.front());
    });
    if (alike.size() > 1 && !listed_once)
      warnings.push_back({"repeated_content",
                          fmt::format("{} records, of {}, hold the same values throughout: one pair of recordings is "
                                      "counted {} times",
                                      alike.size(), people_among(alike), alike.size())});
  }
  return warnings;
}

}  // namespace pulsewright
