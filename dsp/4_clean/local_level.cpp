#include "local_level.hpp"

#include <algorithm>
#include <cmath>

namespace pulsewright {

namespace {

/// Neighbours whose median is a level: five survive two wrong ones and span about a breath (ours).
constexpr std::size_t level_neighbours = 5;
/// Usable intervals on each side whose differences set the threshold (61 with the interval itself; Lipponen & Tarvainen 2019 use 91).
constexpr std::size_t spread_reach = 30;
/// Quartile deviations in a threshold. A normal distribution has 0.6745 SD in one, so this is 3.5 SD (the published method uses 5.2 too).
constexpr double spread_factor = 3.5 / 0.6745;
/// The threshold is never below this share of the level: tiny variability in hard exercise must not flag the ticks of a 250 Hz clock.
constexpr double threshold_floor = 0.05;
/// Nor below this, in ms: two ticks of a 125 Hz clock.
constexpr double threshold_floor_ms = 16.0;
/// Nor above this share: doubled and halved intervals stay in sight in any rhythm.
constexpr double threshold_cap = 0.35;
/// With few intervals the spread is poorly known: the floor grows by this share divided by their number (ours).
constexpr double small_sample_floor = 0.40;

double median(std::vector<double>& values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  if (values.size() % 2 == 1) return *middle;
  return 0.5 * (*middle + *std::max_element(values.begin(), middle));
}

/// Half the distance between the quartiles, linearly interpolated between order statistics.
double quartile_deviation(std::vector<double>& values) {
  if (values.size() < 2) return 0.0;
  std::sort(values.begin(), values.end());
  const auto quantile = [&](double q) {
    const double place = q * static_cast<double>(values.size() - 1);
    const auto below = static_cast<std::size_t>(place);
    const std::size_t above = std::min(below + 1, values.size() - 1);
    return values[below] + (place - static_cast<double>(below)) * (values[above] - values[below]);
  };
  return 0.5 * (quantile(0.75) - quantile(0.25));
}

}  // namespace

LocalLevels::LocalLevels(std::span<const double> intervals_ms, const std::vector<bool>& usable) {
  const std::size_t n = intervals_ms.size();
  std::vector<std::size_t> place;  // of the usable intervals
  for (std::size_t i = 0; i < n; ++i)
    if (usable[i]) place.push_back(i);

  before_.resize(n + 1);
  after_.resize(n + 1);
  threshold_.resize(n + 1);
  std::vector<double> scratch;
  std::size_t next = 0;  // first usable interval at or after the boundary
  for (std::size_t i = 0; i <= n; ++i) {
    while (next < place.size() && place[next] < i) ++next;
    const auto median_of = [&](std::size_t from, std::size_t to) {
      scratch.clear();
      for (std::size_t k = from; k < to; ++k) scratch.push_back(intervals_ms[place[k]]);
      return median(scratch);
    };
    const std::size_t left = next - std::min(next, level_neighbours);
    const std::size_t right = std::min(next + level_neighbours, place.size());
    const bool has_before = left < next;
    const bool has_after = next < right;
    before_[i] = has_before ? median_of(left, next) : median_of(next, right);
    after_[i] = has_after ? median_of(next, right) : before_[i];
  }

  // Strays of usable intervals from the middle of their surroundings, and differences of neighbours on the same scale.
  std::vector<double> stray(place.size());
  std::vector<double> difference(place.size());
  for (std::size_t k = 0; k < place.size(); ++k) {
    stray[k] = intervals_ms[place[k]] - 0.5 * (before_[place[k]] + after_[place[k] + 1]);
    difference[k] = k == 0 ? 0.0 : (intervals_ms[place[k]] - intervals_ms[place[k - 1]]) / std::sqrt(2.0);
  }
  next = 0;
  for (std::size_t i = 0; i <= n; ++i) {
    while (next < place.size() && place[next] < i) ++next;
    const std::size_t left = next - std::min(next, spread_reach);
    const std::size_t right = std::min(next + spread_reach + 1, place.size());
    scratch.assign(stray.begin() + static_cast<std::ptrdiff_t>(left),
                   stray.begin() + static_cast<std::ptrdiff_t>(right));
    const double stray_spread = quartile_deviation(scratch);
    const std::size_t first_difference = std::max<std::size_t>(left, 1);
    double difference_spread = 0.0;
    if (first_difference < right) {
      scratch.assign(difference.begin() + static_cast<std::ptrdiff_t>(first_difference),
                     difference.begin() + static_cast<std::ptrdiff_t>(right));
      difference_spread = quartile_deviation(scratch);
    }
    const double level = std::max(before_[i], after_[i]);
    const double share = threshold_floor + small_sample_floor / static_cast<double>(right - left);
    const double floor = std::max(threshold_floor_ms, share * level);
    threshold_[i] = std::clamp(spread_factor * std::max(stray_spread, difference_spread), floor,
                               std::max(floor, threshold_cap * level));
  }
}

double distance_to_range(double value, const LocalLevel& level) {
  const double low = std::min(level.before, level.after);
  const double high = std::max(level.before, level.after);
  if (value < low) return low - value;
  if (value > high) return value - high;
  return 0.0;
}

}  // namespace pulsewright
