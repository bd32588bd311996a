/// Pairs -> a series of values for each person, in the order in which they were taken.
#pragma once

#include <map>
#include <span>
#include <vector>

#include "pulsewright/paired_agreement.hpp"

namespace pulsewright {

/// What `value` makes of each pair, a series a person, people in the order of their numbers.
template <class Value>
[[nodiscard]] std::vector<std::vector<double>> series_by_person(std::span<const PairedValue> pairs,
                                                                const Value& value) {
  std::map<std::size_t, std::vector<double>> people;
  for (const PairedValue& pair : pairs) people[pair.person].push_back(value(pair));
  std::vector<std::vector<double>> series;
  series.reserve(people.size());
  for (auto& [person, values] : people) series.push_back(std::move(values));
  return series;
}

/// test - reference of each person.
[[nodiscard]] inline std::vector<std::vector<double>> differences_by_person(std::span<const PairedValue> pairs) {
  return series_by_person(pairs, [](const PairedValue& pair) { return pair.test - pair.reference; });
}

}  // namespace pulsewright
