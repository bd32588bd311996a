#include <algorithm>
#include <cmath>
#include <vector>

#include "elementary/elementary.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/median.hpp"
#include "pulsewright/rhythm.hpp"

namespace pulsewright {
namespace {

/// Smaller shares of an interval are timing error, and their logarithms are kept finite.
constexpr double least_share = 0.004;
/// Intervals and differences closer than this share are alike.
constexpr double alike = 0.06, near_median = 0.05, early = 0.85, late = 1.15;

double log_share(double value) { return elementary::log(value + least_share); }

/// Value at a share of the sorted ones, nearest rank.
double at_rank(const std::vector<double>& sorted, double share) {
  return sorted[static_cast<std::size_t>(std::nearbyint(share * static_cast<double>(sorted.size() - 1)))];
}

std::vector<double> sorted_sizes(std::vector<double> values) {
  for (double& value : values) value = std::abs(value);
  std::sort(values.begin(), values.end());
  return values;
}

/// Sum of the products of values `lag` apart, over the number of pairs, in units of `variance`.
double repeats(const std::vector<double>& values, std::size_t lag, double variance) {
  double sum = 0;
  for (std::size_t i = lag; i < values.size(); ++i) sum += values[i] * values[i - lag];
  return sum / static_cast<double>(values.size() - lag) / variance;
}

double mean_square(const std::vector<double>& values) {
  double sum = 0;
  for (const double value : values) sum += value * value;
  return sum / static_cast<double>(values.size());
}

template <class Condition>
double share_of(std::size_t count, const Condition& condition) {
  double held = 0;
  for (std::size_t i = 0; i < count; ++i) held += condition(i) ? 1 : 0;
  return held / static_cast<double>(count);
}

/// Pairs of intervals that are alike, and those of them whose next ones are alike as well.
struct Likeness {
  double pairs = 0, followed = 0;
};
Likeness likeness_of(const std::vector<double>& x) {
  Likeness found;
  for (std::size_t k = 1; k + 1 < x.size(); ++k)
    for (std::size_t i = k; i + 1 < x.size(); ++i) {
      if (std::abs(x[i] - x[i - k]) >= alike) continue;
      found.pairs += 1;
      found.followed += std::abs(x[i + 1] - x[i + 1 - k]) < alike ? 1 : 0;
    }
  return found;
}

}  // namespace

std::array<double, rhythm_feature_count> rhythm_features(std::span<const double> intervals_ms) {
  if (intervals_ms.size() != rhythm_window_intervals ||
      !std::all_of(intervals_ms.begin(), intervals_ms.end(), [](double ms) { return ms > 0; }))
    throw Error{ErrorCode::contract, "rhythm_features: 30 intervals, all positive"};
  std::vector<double> x(intervals_ms.begin(), intervals_ms.end()), steps, bends, around;
  std::vector<double> for_median = x;
  const double middle = median(std::span(for_median));
  double mean = 0;
  for (double& value : x) {
    value /= middle;
    mean += value / static_cast<double>(x.size());
  }
  for (std::size_t i = 1; i < x.size(); ++i) steps.push_back(x[i] - x[i - 1]);
  for (std::size_t i = 1; i + 1 < x.size(); ++i) bends.push_back(x[i] - 0.5 * (x[i - 1] + x[i + 1]));
  for (const double value : x) around.push_back(value - mean);
  std::vector<double> ordered = x;
  std::sort(ordered.begin(), ordered.end());
  const std::vector<double> sizes = sorted_sizes(steps), bend_sizes = sorted_sizes(bends);
  constexpr double least_variance = 1e-6;
  const double spread = mean_square(around) + least_variance, step_spread = mean_square(steps) + least_variance;
  const Likeness likeness = likeness_of(x);
  const double all_pairs = static_cast<double>(x.size() * (x.size() - 1) / 2);

  std::array<double, rhythm_feature_count> f{};
  std::size_t k = 0;
  const auto add = [&](double value) { f[k++] = value; };
  add(elementary::log(middle / 1000));
  for (const double share : {0.1, 0.25, 0.5, 0.75, 0.9}) add(log_share(at_rank(sizes, share)));
  add(log_share(std::sqrt(mean_square(steps))));
  add(log_share(ordered[x.size() * 3 / 4] - ordered[x.size() / 4]));
  add(log_share(ordered[x.size() - 3] - ordered[2]));
  for (const std::size_t lag : {1U, 2U, 3U}) add(repeats(around, lag, spread));
  for (const std::size_t lag : {1U, 2U, 3U}) add(repeats(steps, lag, step_spread));
  add(share_of(steps.size() - 1, [&](std::size_t i) { return steps[i] * steps[i + 1] < 0; }));
  add(elementary::log((likeness.followed + 1) / (likeness.pairs + 2)));
  add(elementary::log((likeness.pairs + 1) / all_pairs));
  add(log_share(bend_sizes[bend_sizes.size() / 2]));
  add(log_share(bend_sizes[bend_sizes.size() / 4]));
  add(share_of(steps.size(), [&](std::size_t i) { return std::abs(x[i] + x[i + 1] - 2) < alike; }));
  add(share_of(x.size(), [&](std::size_t i) { return std::abs(x[i] - 1) < near_median; }));
  add(share_of(x.size(), [&](std::size_t i) { return x[i] < early; }));
  add(share_of(x.size(), [&](std::size_t i) { return x[i] > late; }));
  return f;
}

}  // namespace pulsewright
