#include "series_moments.hpp"

#include <cmath>

namespace pulsewright {

double mean_of(std::span<const double> values) {
  double sum = 0;
  for (const double value : values) sum += value;
  return sum / static_cast<double>(values.size());
}

double squares_around(std::span<const double> values, double centre) {
  double sum = 0;
  for (const double value : values) sum += (value - centre) * (value - centre);
  return sum;
}

std::vector<double> differences_of(std::span<const PairedValue> pairs) {
  std::vector<double> differences;
  differences.reserve(pairs.size());
  for (const PairedValue& pair : pairs) differences.push_back(pair.test - pair.reference);
  return differences;
}

FittedLine fit_line(std::span<const double> x, std::span<const double> y) {
  const double x_mean = mean_of(x), y_mean = mean_of(y);
  const double sxx = squares_around(x, x_mean);
  double sxy = 0;
  for (std::size_t i = 0; i < x.size(); ++i) sxy += (x[i] - x_mean) * (y[i] - y_mean);
  FittedLine line;
  line.slope = sxy / sxx;
  line.intercept = y_mean - line.slope * x_mean;
  line.degrees = static_cast<double>(x.size()) - 2;
  double residual = 0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    const double r = y[i] - line.intercept - line.slope * x[i];
    residual += r * r;
  }
  line.slope_error = std::sqrt(residual / line.degrees / sxx);
  return line;
}

}  // namespace pulsewright
