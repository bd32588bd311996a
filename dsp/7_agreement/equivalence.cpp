#include <cmath>
#include <map>

#include "distributions.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/paired_agreement.hpp"
#include "series_moments.hpp"

namespace pulsewright {
namespace {

/// People's mean differences, or the differences of a single person.
std::vector<double> independent_differences(std::span<const PairedValue> pairs) {
  std::map<std::size_t, std::vector<double>> of_person;
  for (const PairedValue& pair : pairs) of_person[pair.person].push_back(pair.test - pair.reference);
  if (of_person.size() < 2) return differences_of(pairs);
  std::vector<double> means;
  means.reserve(of_person.size());
  for (const auto& [person, differences] : of_person) means.push_back(mean_of(differences));
  return means;
}

}  // namespace

std::optional<Equivalence> equivalence(std::span<const PairedValue> pairs, double margin) {
  if (!(margin > 0)) throw Error{ErrorCode::contract, "equivalence: the margin must be positive"};
  const std::vector<double> units = independent_differences(pairs);
  if (units.size() < 2) return std::nullopt;
  constexpr double level = 0.05;
  const double n = static_cast<double>(units.size());
  const double bias = mean_of(units);
  const double error = std::sqrt(squares_around(units, bias) / (n - 1) / n);
  Equivalence result;
  result.margin = margin;
  result.units = units.size();
  const double reach = student_quantile(1 - level, n - 1) * error;
  result.bias = {bias, bias - reach, bias + reach};
  if (error > 0)
    result.p = std::max(student_above((bias + margin) / error, n - 1), student_above((margin - bias) / error, n - 1));
  else
    result.p = std::abs(bias) < margin ? 0 : 1;
  result.equivalent = result.p < level;
  return result;
}

}  // namespace pulsewright
