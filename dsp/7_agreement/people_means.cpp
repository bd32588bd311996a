#include "people_means.hpp"

#include <algorithm>
#include <cmath>

#include "elementary/elementary.hpp"
#include "people_spreads.hpp"

namespace pulsewright {
namespace {

/// The SD between people is looked at from so many times the one seen to so many times.
constexpr double lowest = 0.02, highest = 30;
constexpr std::size_t steps = 160;

}  // namespace

PeopleMeans::PeopleMeans(std::span<const PersonMean> people) {
  const double n = static_cast<double>(people.size());
  double sum = 0, precision = 0;
  for (const PersonMean& person : people) {
    sum += person.mean;
    precision += 1 / person.variance;
  }
  double squares = 0;
  for (const PersonMean& person : people) squares += (person.mean - sum / n) * (person.mean - sum / n);
  const double typical = n / precision, scale = std::sqrt(squares / (n - 1) + typical);
  sds_.push_back(0);
  for (std::size_t k = 0; k < steps; ++k)
    sds_.push_back(scale * lowest *
                   elementary::pow(highest / lowest, static_cast<double>(k) / static_cast<double>(steps - 1)));
  std::vector<double> density;
  for (const double sd : sds_) {
    double weight = 0, weighted = 0, logs = 0;
    for (const PersonMean& person : people) {
      const double total = sd * sd + person.variance;
      weight += 1 / total;
      weighted += person.mean / total;
      logs += elementary::log(total);
    }
    const double mean = weighted / weight;
    double rest = 0;
    for (const PersonMean& person : people)
      rest += (person.mean - mean) * (person.mean - mean) / (sd * sd + person.variance);
    means_.push_back(mean);
    errors_.push_back(1 / std::sqrt(weight));
    density.push_back(-0.5 * (logs + elementary::log(weight) + rest));
  }
  const double greatest = *std::max_element(density.begin(), density.end());
  for (std::size_t k = 0; k < sds_.size(); ++k)
    density[k] = elementary::exp(density[k] - greatest) * 2 * sds_[k] / (sds_[k] * sds_[k] + typical);
  cumulated_ = cumulated_weight(sds_, density);
}

PeopleMeans::Draw PeopleMeans::draw(double between_share, double deviate) const {
  const double sd = at_share(sds_, cumulated_, between_share);
  const auto after = static_cast<std::size_t>(std::upper_bound(sds_.begin(), sds_.end(), sd) - sds_.begin());
  const std::size_t high = std::clamp<std::size_t>(after, 1, sds_.size() - 1), low = high - 1;
  const double share = (sd - sds_[low]) / (sds_[high] - sds_[low]);
  const auto between = [share](double a, double b) { return a + share * (b - a); };
  return {between(means_[low], means_[high]) + between(errors_[low], errors_[high]) * deviate, sd * sd};
}

}  // namespace pulsewright
