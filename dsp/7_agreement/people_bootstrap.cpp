#include "people_bootstrap.hpp"

#include <algorithm>
#include <cmath>
#include <random>

#include "distributions.hpp"

namespace pulsewright {
namespace {

/// Linear interpolation between order statistics (type 7 of Hyndman & Fan 1996, Am Stat 50:361). `sorted` must not be empty.
double quantile_of(std::span<const double> sorted, double p) {
  const double at = p * static_cast<double>(sorted.size() - 1);
  const auto below = static_cast<std::size_t>(std::floor(at));
  const std::size_t above = std::min(below + 1, sorted.size() - 1);
  return sorted[below] + (at - static_cast<double>(below)) * (sorted[above] - sorted[below]);
}

}  // namespace

std::vector<PairSums> draw_people(std::span<const PairSums> people, std::uint64_t seed, std::size_t resamples) {
  std::vector<PairSums> draws;
  if (people.size() < fewest_people) return draws;
  std::mt19937_64 bits(seed);
  const std::uint64_t n = people.size();
  // Numbers from here on up are drawn again, so that every person is equally likely. (The standard's own distributions differ between libraries.)
  const std::uint64_t usable = std::mt19937_64::max() - std::mt19937_64::max() % n;
  draws.reserve(resamples);
  for (std::size_t k = 0; k < resamples; ++k) {
    PairSums sums;
    for (std::size_t i = 0; i < people.size(); ++i) {
      std::uint64_t number = bits();
      while (number >= usable) number = bits();
      if (i == 0)
        sums = people[number % n];
      else
        sums.add(people[number % n]);
    }
    draws.push_back(sums);
  }
  return draws;
}

Estimate with_interval(double value, std::span<const PairSums> draws, std::size_t people,
                       const std::function<std::optional<double>(const PairSums&)>& measure) {
  Estimate result{value, std::nullopt, std::nullopt};
  std::vector<double> values;
  values.reserve(draws.size());
  for (const PairSums& draw : draws) {
    const auto drawn = measure(draw);
    if (!drawn) return result;
    values.push_back(*drawn);
  }
  if (values.empty()) return result;
  std::sort(values.begin(), values.end());
  const double n = static_cast<double>(people);
  const double tail = normal_cdf(-student_quantile(0.975, n - 1) * std::sqrt(n / (n - 1)));
  result.low = quantile_of(values, tail);
  result.high = quantile_of(values, 1 - tail);
  return result;
}

}  // namespace pulsewright
