#include <cmath>
#include <numbers>

#include "distributions.hpp"
#include "pulsewright/paired_agreement.hpp"
#include "series_moments.hpp"

namespace pulsewright {
namespace {

Estimate slope_of(const FittedLine& line) {
  const double reach = student_quantile(0.975, line.degrees) * line.slope_error;
  return {line.slope, line.slope - reach, line.slope + reach};
}

double p_of(const FittedLine& line) {
  if (line.slope == 0) return 1;
  return student_two_sided(line.slope / line.slope_error, line.degrees);
}

}  // namespace

double TrendOfDifferences::bias_at(double mean) const { return intercept + slope.value * mean; }

double TrendOfDifferences::half_width_at(double mean) const {
  // The mean absolute value of a normal variable is its SD times sqrt(2 / pi).
  const double sd = (spread_intercept + spread_slope.value * mean) * std::sqrt(std::numbers::pi / 2);
  return limit_multiple * std::max(sd, 0.0);
}

std::optional<TrendOfDifferences> trend_of_differences(std::span<const PairedValue> pairs) {
  if (pairs.size() < 3) return std::nullopt;
  std::vector<double> means;
  for (const PairedValue& pair : pairs) means.push_back((pair.reference + pair.test) / 2);
  if (!(squares_around(means, mean_of(means)) > 0)) return std::nullopt;
  const std::vector<double> differences = differences_of(pairs);
  const FittedLine line = fit_line(means, differences);
  std::vector<double> spread;
  for (std::size_t i = 0; i < means.size(); ++i)
    spread.push_back(std::abs(differences[i] - line.intercept - line.slope * means[i]));
  const FittedLine of_spread = fit_line(means, spread);

  TrendOfDifferences result;
  result.slope = slope_of(line);
  result.intercept = line.intercept;
  result.p = p_of(line);
  result.spread_slope = slope_of(of_spread);
  result.spread_intercept = of_spread.intercept;
  result.spread_p = p_of(of_spread);
  return result;
}

}  // namespace pulsewright
