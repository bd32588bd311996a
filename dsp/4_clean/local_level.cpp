#include "local_level.hpp"

#include <algorithm>
#include <cmath>

#include "local_quantile.hpp"
#include "pulsewright/median.hpp"

namespace pulsewright {

namespace {

/// Neighbours whose median is a level: five survive two wrong ones and span about a breath (ours).
constexpr std::size_t level_neighbours = 5;
/// Usable intervals on each side whose spread sets the thresholds (Lipponen & Tarvainen 2019 use 91 in all).
constexpr std::size_t spread_reach = 30;
/// Thresholds are 3.5 SD of a normal distribution, estimated from quantiles of magnitudes that a few wrong values do not move: half of the
/// magnitudes lie within 0.6745 SD (as the published 5.2 quartile deviations), 85 % within 1.4395 SD.
constexpr double sds = 3.5;
constexpr double half = 0.50;
constexpr double half_in_sds = 0.6745;
constexpr double most = 0.85;
constexpr double most_in_sds = 1.4395;
/// The threshold is never below this share of the level: tiny variability in hard exercise must not flag the ticks of a 250 Hz clock.
constexpr double threshold_floor = 0.05;
/// Nor below this, in ms: two ticks of a 125 Hz clock.
constexpr double threshold_floor_ms = 16.0;
/// Nor above this share: doubled and halved intervals stay in sight in any rhythm.
constexpr double threshold_cap = 0.35;
/// With few intervals the spread is poorly known: the floor grows by this share divided by their number (ours).
constexpr double small_sample_floor = 0.40;

}  // namespace

double distance_to_range(double value, const LocalLevel& level) {
  const double low = std::min(level.before, level.after);
  const double high = std::max(level.before, level.after);
  if (value < low) return low - value;
  if (value > high) return value - high;
  return 0.0;
}

double LocalLevels::as_neighbour(std::size_t i) const {
  if (!usable_[i]) return 0.5 * (before_[i] + after_[i + 1]);
  const LocalLevel level = around(i, i + 1);
  const double low = std::min(level.before, level.after) - level.threshold;
  const double high = std::max(level.before, level.after) + level.threshold;
  return std::clamp(intervals_ms_[i], low, high);
}

std::optional<double> LocalLevels::seesaw(std::size_t i) const {
  const std::size_t n = intervals_ms_.size();
  if (i + 1 >= n) return std::nullopt;
  const double expected = i > 0 && i + 2 < n ? (as_neighbour(i + 2) - as_neighbour(i - 1)) / 3.0 : 0.0;
  return 0.5 * (intervals_ms_[i + 1] - intervals_ms_[i] - expected);
}

double LocalLevels::between_neighbours(std::size_t i) const {
  const bool has_left = i > 0;
  const bool has_right = i + 2 < intervals_ms_.size();
  if (has_left && has_right) return 0.5 * (as_neighbour(i - 1) + as_neighbour(i + 2));
  if (has_left) return as_neighbour(i - 1);
  return has_right ? as_neighbour(i + 2) : 0.5 * (before_[i] + after_[i]);
}

LocalLevels::LocalLevels(std::span<const double> intervals_ms, const std::vector<bool>& usable)
    : intervals_ms_(intervals_ms), usable_(usable) {
  const std::span<const double> d = intervals_ms;
  const std::size_t n = d.size();
  std::vector<std::size_t> place;  // of the usable intervals
  for (std::size_t i = 0; i < n; ++i)
    if (usable[i]) place.push_back(i);

  before_.resize(n + 1);
  after_.resize(n + 1);
  std::vector<double> scratch;
  std::size_t next = 0;  // first usable interval at or after the boundary
  for (std::size_t i = 0; i <= n; ++i) {
    while (next < place.size() && place[next] < i) ++next;
    const auto median_of = [&](std::size_t from, std::size_t to) {
      scratch.clear();
      for (std::size_t k = from; k < to; ++k) scratch.push_back(d[place[k]]);
      return median(std::span(scratch));
    };
    const std::size_t left = next - std::min(next, level_neighbours);
    const std::size_t right = std::min(next + level_neighbours, place.size());
    before_[i] = left < next ? median_of(left, next) : median_of(next, right);
    after_[i] = next < right ? median_of(next, right) : before_[i];
  }

  std::vector<Placed> strays, differences, seesaws;
  for (std::size_t k = 0; k < place.size(); ++k) {
    const std::size_t i = place[k];
    strays.push_back({i, distance_to_range(d[i], {before_[i], after_[i + 1], 0.0})});
    if (i == 0 || !usable[i - 1]) continue;
    differences.push_back({i, std::abs(d[i] - d[i - 1]) / std::sqrt(2.0)});
  }
  const std::vector<double> stray = local_quantile(strays, n, spread_reach, most);
  const std::vector<double> difference = local_quantile(differences, n, spread_reach, half);
  const double share =
      threshold_floor + small_sample_floor / static_cast<double>(std::min(place.size(), 2 * spread_reach));
  const auto bounded = [&](double threshold, std::size_t boundary) {
    const double level = std::max(before_[boundary], after_[boundary]);
    const double floor = std::max(threshold_floor_ms, share * level);
    return std::clamp(threshold, floor, std::max(floor, threshold_cap * level));
  };
  threshold_.resize(n + 1);
  for (std::size_t i = 0; i <= n; ++i)
    threshold_[i] = bounded(sds * std::max(stray[i] / most_in_sds, difference[i] / half_in_sds), i);

  for (std::size_t i = 0; i + 1 < n; ++i)
    if (usable[i] && usable[i + 1]) seesaws.push_back({i, std::abs(*seesaw(i))});
  const std::vector<double> swing = local_quantile(seesaws, n, spread_reach, half);
  seesaw_threshold_.resize(n + 1);
  for (std::size_t i = 0; i <= n; ++i) seesaw_threshold_[i] = bounded(sds * swing[i] / half_in_sds, i);
}

}  // namespace pulsewright
