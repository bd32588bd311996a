#include "window_dependence.hpp"

#include <algorithm>
#include <cmath>

#include "series_moments.hpp"

namespace pulsewright {
namespace {

/// What is less is chance, and ends the sum.
constexpr double least_correlation = 0.05;
constexpr double most_correlation = 0.99;
constexpr std::size_t farthest_lag = 500;
/// A mean of dependent values is worth more than one of them.
constexpr double most_inflation = 0.8;
/// More degrees of freedom make no interval narrower that anybody would read.
constexpr double most_degrees = 300;

std::vector<double> standardised(const std::vector<double>& values) {
  std::vector<double> result(values);
  const double mean = mean_of(values);
  const double sd = std::sqrt(squares_around(values, mean) / static_cast<double>(values.size()));
  for (double& value : result) value = sd > 0 ? (value - mean) / sd : 0;
  return result;
}

}  // namespace

WindowDependence::WindowDependence(std::span<const std::vector<double>> people) {
  std::vector<std::vector<double>> series;
  std::size_t longest = 0, all = 0;
  for (const std::vector<double>& values : people) {
    if (values.size() < 2) continue;
    longest = std::max(longest, values.size());
    all += values.size();
    series.push_back(standardised(values));
  }
  if (series.empty()) return;
  const double usual = static_cast<double>(all) / static_cast<double>(series.size());
  for (std::size_t lag = 1; lag < std::min(longest / 2, farthest_lag); ++lag) {
    double products = 0, squares = 0;
    for (const std::vector<double>& values : series) {
      if (values.size() <= lag) continue;
      double own = 0;
      for (std::size_t i = 0; i < values.size(); ++i) {
        own += values[i] * values[i];
        if (i >= lag) products += values[i] * values[i - lag];
      }
      squares += own * static_cast<double>(values.size() - lag) / static_cast<double>(values.size());
    }
    double r = squares > 0 ? products / squares : 0;
    r += (lag == 1 ? 1 + 3 * r : 1) / usual;
    if (r < least_correlation) return;
    at_lag_.push_back(std::min(r, most_correlation));
  }
}

double WindowDependence::inflation(std::size_t count) const {
  const double n = static_cast<double>(count);
  double sum = 1;
  for (std::size_t k = 1; k < count && k <= at_lag_.size(); ++k)
    sum += 2 * (1 - static_cast<double>(k) / n) * at_lag_[k - 1];
  return std::min(sum, std::max(1.0, most_inflation * n));
}

double WindowDependence::degrees(std::size_t count) const {
  const double n = static_cast<double>(count);
  double sum = 1;
  for (std::size_t k = 1; k < count && k <= at_lag_.size(); ++k)
    sum += 2 * (1 - static_cast<double>(k) / n) * at_lag_[k - 1] * at_lag_[k - 1];
  return std::clamp((n - 1) / sum, 1.0, most_degrees);
}

double WindowDependence::variance(double squares, std::size_t count) const {
  return squares / (static_cast<double>(count) - inflation(count));
}

}  // namespace pulsewright
