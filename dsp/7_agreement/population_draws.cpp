#include "population_draws.hpp"

#include <algorithm>
#include <cmath>

#include "distributions.hpp"
#include "people_bootstrap.hpp"
#include "people_means.hpp"
#include "people_spreads.hpp"
#include "series_moments.hpp"
#include "window_dependence.hpp"

namespace pulsewright {
namespace {

constexpr std::size_t draws_count = 4000;
/// A person whose values are all alike is taken to have this share of the largest variance, if their steps do not say more.
constexpr double least_share = 1e-4;
/// Means are never known better than to this share of the squares of all values.
constexpr double rounding_share = 1e-12;

/// Digits of `index` in `base`, mirrored at the point.
double halton(std::size_t index, std::size_t base) {
  double value = 0, share = 1;
  for (; index > 0; index /= base) {
    share /= static_cast<double>(base);
    value += share * static_cast<double>(index % base);
  }
  return value;
}

/// Variance of rounding to the smallest step between values (a device that shows whole numbers): less is not seen.
double rounding_variance(std::span<const std::vector<double>> people) {
  constexpr double no_step = 1e-6;
  std::vector<double> all;
  for (const std::vector<double>& values : people) all.insert(all.end(), values.begin(), values.end());
  std::sort(all.begin(), all.end());
  double step = 0;
  for (std::size_t i = 1; i < all.size(); ++i)
    if (const double gap = all[i] - all[i - 1]; gap > no_step && (step == 0 || gap < step)) step = gap;
  return step * step / 12;
}

}  // namespace

std::vector<Population> draw_populations(std::span<const std::vector<double>> people) {
  if (people.size() < fewest_people) return {};
  const WindowDependence dependence(people);
  std::vector<PersonSpread> spreads;
  std::vector<PersonMean> means;
  double largest = 0, size = 0;
  for (const std::vector<double>& values : people) {
    const double mean = mean_of(values);
    PersonSpread spread;
    if (values.size() > 1) {
      spread.variance = dependence.variance(squares_around(values, mean), values.size());
      spread.degrees = dependence.degrees(values.size());
    }
    largest = std::max(largest, spread.variance);
    size = std::max(size, mean * mean);
    spreads.push_back(spread);
    means.push_back({mean, 0});
  }
  size = std::max(size, largest);
  if (!(size > 0)) return {Population{}};
  const double least = std::max({least_share * largest, rounding_share * size, rounding_variance(people)});
  for (PersonSpread& spread : spreads)
    if (spread.degrees > 0) spread.variance = std::max(spread.variance, least);
  const PeopleSpreads of_spreads(spreads);
  for (std::size_t i = 0; i < means.size(); ++i)
    means[i].variance = of_spreads.shrunken(spreads[i]) * dependence.inflation(people[i].size()) /
                        static_cast<double>(people[i].size());
  const PeopleMeans of_means(means);
  std::vector<Population> draws;
  draws.reserve(draws_count);
  for (std::size_t k = 1; k <= draws_count; ++k) {
    const auto between = of_means.draw(halton(k, 5), normal_quantile(halton(k, 7)));
    const double within = of_spreads.draw(halton(k, 2), halton(k, 3)).mean_variance();
    draws.push_back({between.mean, between.between_variance, within});
  }
  return draws;
}

Estimate middle_95(double value, std::vector<double> values) {
  std::sort(values.begin(), values.end());
  constexpr double tail = 0.025;
  const auto at = [&values](double share) {
    return values[static_cast<std::size_t>(std::lround(share * static_cast<double>(values.size() - 1)))];
  };
  return {value, std::min(value, at(tail)), std::max(value, at(1 - tail))};
}

Estimate over_populations(double value, std::span<const Population> draws,
                          const std::function<double(const Population&)>& measure) {
  if (draws.empty()) return {value, std::nullopt, std::nullopt};
  std::vector<double> values;
  values.reserve(draws.size());
  for (const Population& draw : draws) values.push_back(measure(draw));
  return middle_95(value, std::move(values));
}

}  // namespace pulsewright
