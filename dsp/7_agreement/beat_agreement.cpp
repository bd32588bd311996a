#include <algorithm>
#include <cmath>

#include "pulsewright/agreement.hpp"

namespace pulsewright {
namespace {

std::optional<double> percent(std::int64_t part, std::int64_t whole) {
  if (whole <= 0) return std::nullopt;
  return 100.0 * static_cast<double>(part) / static_cast<double>(whole);
}

}  // namespace

std::optional<double> BeatAgreement::sensitivity_percent() const {
  return percent(true_positives, true_positives + false_negatives);
}

std::optional<double> BeatAgreement::positive_predictivity_percent() const {
  return percent(true_positives, true_positives + false_positives);
}

std::optional<double> BeatAgreement::f1_percent() const {
  return percent(2 * true_positives, 2 * true_positives + false_negatives + false_positives);
}

std::optional<double> BeatAgreement::error_rate_percent() const {
  return percent(false_negatives + false_positives, true_positives + false_negatives);
}

std::optional<double> BeatAgreement::bias_ms() const {
  if (error_ms.empty()) return std::nullopt;
  double sum = 0;
  for (const double e : error_ms) sum += e;
  return sum / static_cast<double>(error_ms.size());
}

std::optional<double> BeatAgreement::sd_ms() const {
  if (error_ms.size() < 2) return std::nullopt;
  const double mean = *bias_ms();
  double sum = 0;
  for (const double e : error_ms) sum += (e - mean) * (e - mean);
  return std::sqrt(sum / static_cast<double>(error_ms.size() - 1));
}

std::optional<double> BeatAgreement::p95_absolute_ms() const {
  if (error_ms.empty()) return std::nullopt;
  std::vector<double> absolute;
  absolute.reserve(error_ms.size());
  for (const double e : error_ms) absolute.push_back(std::abs(e));
  // The smallest value that at least 95 % of the errors do not exceed (nearest rank).
  const auto rank = static_cast<std::size_t>(std::ceil(0.95 * static_cast<double>(absolute.size()))) - 1;
  std::nth_element(absolute.begin(), absolute.begin() + static_cast<std::ptrdiff_t>(rank), absolute.end());
  return absolute[rank];
}

}  // namespace pulsewright
