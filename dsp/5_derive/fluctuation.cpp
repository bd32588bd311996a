#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "elementary/elementary.hpp"
#include "pulsewright/complexity.hpp"
#include "pulsewright/error.hpp"

namespace pulsewright {

namespace {

std::vector<double> running_sum(std::span<const double> values) {
  double mean = 0.0;
  for (const double v : values) mean += v;
  mean /= static_cast<double>(values.size());
  std::vector<double> sums;
  sums.reserve(values.size());
  double sum = 0.0;
  for (const double v : values) sums.push_back(sum += v - mean);
  return sums;
}

/// Root mean square about the straight line of each whole box.
double about_lines(const std::vector<double>& sums, std::size_t box) {
  const std::size_t boxes = sums.size() / box;
  if (boxes == 0) return 0.0;
  const auto n = static_cast<double>(box);
  const double middle = 0.5 * (n - 1.0);
  const double places = n * (n * n - 1.0) / 12.0;  // sum of squared distances of 0 .. n - 1 from their middle
  double total = 0.0;
  for (std::size_t b = 0; b < boxes; ++b) {
    const double* y = sums.data() + b * box;
    // Distances from the first value keep the squares small where the running sum has wandered off.
    double sum = 0.0, along = 0.0, squares = 0.0;
    for (std::size_t k = 0; k < box; ++k) {
      const double d = y[k] - y[0];
      sum += d;
      along += (static_cast<double>(k) - middle) * d;
      squares += d * d;
    }
    total += std::max(0.0, squares - sum * sum / n - along * along / places);
  }
  return std::sqrt(total / (n * static_cast<double>(boxes)));
}

}  // namespace

double fluctuation(std::span<const double> values, std::size_t box) {
  if (box < 3) throw Error{ErrorCode::contract, fmt::format("fluctuation: boxes of {} values; at least 3", box)};
  return values.size() < box ? 0.0 : about_lines(running_sum(values), box);
}

std::optional<double> fluctuation_exponent(std::span<const double> values, std::size_t shortest, std::size_t longest) {
  if (shortest < 3 || shortest >= longest)
    throw Error{ErrorCode::contract, fmt::format("fluctuation_exponent: boxes of {} to {} values; it must be 3 <= "
                                                 "shortest < longest",
                                                 shortest, longest)};
  if (values.size() < longest) return std::nullopt;
  const std::vector<double> sums = running_sum(values);
  double n = 0.0, x = 0.0, y = 0.0, xx = 0.0, xy = 0.0;
  for (std::size_t box = shortest; box <= longest; ++box) {
    const double f = about_lines(sums, box);
    if (!(f > 0.0)) return std::nullopt;
    const double log_box = elementary::log(static_cast<double>(box)), log_f = elementary::log(f);
    n += 1.0;
    x += log_box;
    y += log_f;
    xx += log_box * log_box;
    xy += log_box * log_f;
  }
  return (n * xy - x * y) / (n * xx - x * x);
}

}  // namespace pulsewright
