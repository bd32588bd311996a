#include "rate_distribution.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <numbers>

#include "elementary/elementary.hpp"

namespace pulsewright {
namespace {

constexpr double tolerance = 1e-6;  // of a quantile, in beats/min

}  // namespace

void CountError::add(int amount, double p) {
  if (amount == 0 || !(p > 0.0)) return;
  p = std::min(p, 1.0);
  const auto size = static_cast<std::size_t>(std::abs(amount));
  const double lower = amount < 0 ? p : 1.0 - p;  // of the two outcomes, the one with fewer beats
  const double upper = amount < 0 ? 1.0 - p : p;
  const std::size_t before = probability_.size();
  probability_.resize(before + size, 0.0);
  for (std::size_t k = before; k-- > 0;) {
    const double here = probability_[k];
    probability_[k] = lower * here;
    probability_[k + size] += upper * here;
  }
  lowest_ += std::min(amount, 0);
}

double RateDistribution::cumulative(double bpm) const {
  double sum = 0.0;
  for (const Part& part : parts)
    sum += part.weight * 0.5 * elementary::erfc((part.mean - bpm) / (part.sd * std::sqrt(2.0)));
  return sum;
}

double RateDistribution::density(double bpm) const {
  double sum = 0.0;
  for (const Part& part : parts) {
    const double z = (bpm - part.mean) / part.sd;
    sum += part.weight / part.sd * elementary::exp(-0.5 * z * z);
  }
  return sum / std::sqrt(2.0 * std::numbers::pi);
}

double RateDistribution::quantile(double q) const {
  constexpr double reach = 10.0;  // SDs beyond which a normal distribution has nothing left to double precision
  double low = parts.front().mean - reach * parts.front().sd;
  double high = low;
  for (const Part& part : parts) {
    low = std::min(low, part.mean - reach * part.sd);
    high = std::max(high, part.mean + reach * part.sd);
  }
  // Newton's steps, from the quantile of a logistic distribution in the place of the likeliest part; where one leaves the bracket or shrinks too slowly, the bracket is halved
  // instead.
  constexpr double logistic_scale = 1.0 / 1.702;  // of the one nearest to a normal distribution, in SDs
  const Part& likeliest =
      *std::max_element(parts.begin(), parts.end(), [](const Part& a, const Part& b) { return a.weight < b.weight; });
  double at = std::clamp(likeliest.mean + likeliest.sd * logistic_scale * elementary::log(q / (1.0 - q)), low, high);
  double step = high - low;
  while (step > tolerance && high - low > tolerance) {
    const double excess = cumulative(at) - q;
    (excess < 0.0 ? low : high) = at;
    double next = at - excess / density(at);
    if (!(next > low && next < high && std::abs(next - at) < 0.5 * step)) next = 0.5 * (low + high);
    step = std::abs(next - at);
    at = next;
  }
  return at;
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
