#include <cmath>
#include <map>

#include "distributions.hpp"
#include "pulsewright/paired_agreement.hpp"
#include "series_moments.hpp"

namespace pulsewright {
namespace {

PersonBias bias_of(std::size_t person, std::span<const PairedValue> pairs) {
  PersonBias own{person, pairs.size(), 0, 0, std::nullopt};
  const std::vector<double> differences = differences_of(pairs);
  own.bias = mean_of(differences);
  for (const PairedValue& pair : pairs)
    own.mean += (pair.reference + pair.test) / 2 / static_cast<double>(pairs.size());
  if (pairs.size() > 1)
    own.sd = std::sqrt(squares_around(differences, own.bias) / static_cast<double>(pairs.size() - 1));
  return own;
}

}  // namespace

std::optional<BiasOfPeople> bias_of_people(std::span<const PairedValue> pairs) {
  std::map<std::size_t, std::vector<PairedValue>> of_person;
  for (const PairedValue& pair : pairs) of_person[pair.person].push_back(pair);
  if (of_person.size() < 2) return std::nullopt;
  BiasOfPeople result;
  std::vector<double> biases;
  for (const auto& [person, own] : of_person) {
    result.people.push_back(bias_of(person, own));
    biases.push_back(result.people.back().bias);
  }
  const double n = static_cast<double>(biases.size()), mean = mean_of(biases);
  const double reach = student_quantile(0.975, n - 1) * std::sqrt(squares_around(biases, mean) / (n - 1) / n);
  result.mean = {mean, mean - reach, mean + reach};
  std::vector<std::size_t> people;
  people.reserve(pairs.size());
  for (const PairedValue& pair : pairs) people.push_back(pair.person);
  result.mixed = mixed_model(differences_of(pairs), people);
  return result;
}

}  // namespace pulsewright
