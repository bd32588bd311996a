#include "rate_distribution.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace pulsewright {

void CountError::add(int amount, double p) {
  if (amount == 0 || !(p > 0.0)) return;
  p = std::min(p, 1.0);
  const auto size = static_cast<std::size_t>(std::abs(amount));
  std::vector<double> sum(probability_.size() + size, 0.0);
  const std::size_t stay = amount < 0 ? size : 0;  // shift of the outcomes without the error
  const std::size_t move = amount < 0 ? 0 : size;
  for (std::size_t k = 0; k < probability_.size(); ++k) {
    sum[k + stay] += (1.0 - p) * probability_[k];
    sum[k + move] += p * probability_[k];
  }
  probability_ = std::move(sum);
  lowest_ += std::min(amount, 0);
}

double RateDistribution::cumulative(double bpm) const {
  double sum = 0.0;
  for (const Part& part : parts) sum += part.weight * 0.5 * std::erfc((part.mean - bpm) / (part.sd * std::sqrt(2.0)));
  return sum;
}

double RateDistribution::quantile(double q) const {
  constexpr double reach = 10.0;  // SDs beyond which a normal distribution has nothing left to double precision
  double low = parts.front().mean - reach * parts.front().sd;
  double high = low;
  for (const Part& part : parts) {
    low = std::min(low, part.mean - reach * part.sd);
    high = std::max(high, part.mean + reach * part.sd);
  }
  while (high - low > 1e-6) {
    const double middle = 0.5 * (low + high);
    (cumulative(middle) < q ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

RateDistribution rate_distribution(int beats, double seconds, double sd_seconds, const CountError& error) {
  constexpr double negligible = 1e-9;
  RateDistribution result;
  double total = 0.0;
  for (std::size_t k = 0; k < error.probability().size(); ++k) {
    const int true_beats = beats + error.lowest() + static_cast<int>(k);
    const double weight = error.probability()[k];
    if (true_beats < 2 || weight < negligible) continue;
    const double mean = 60.0 * (true_beats - 1) / seconds;
    result.parts.push_back({weight, mean, mean * sd_seconds / seconds});
    total += weight;
  }
  for (RateDistribution::Part& part : result.parts) part.weight /= total;
  return result;
}

}  // namespace pulsewright
