#include "explain.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace pulsewright {

namespace {

// The cost of an event is a fixed part, below, and the strain of the intervals it leaves: squared distances from the expected range in
// units of the local threshold. A normal interval has no fixed part. Set on activity_beats subjects 00-11.
constexpr double missed_cost = 0.4;       ///< a beat was not detected
constexpr double missed_more_cost = 0.5;  ///< each further one in the same interval
constexpr double extra_cost = 0.4;        ///< a detection is no beat
constexpr double extra_more_cost = 1.0;   ///< a second one in the same interval
/// Added to both, times the fourth power of the seesaw's threshold over the level: nothing in hard exercise, little in a young person's breathing at rest,
/// which is smooth from beat to beat, 3 in fibrillation of the atria.
constexpr double irregular_cost = 200.0;
constexpr double misplaced_cost = 2.0;    ///< a detection is at the wrong place: two intervals off by the same
constexpr double early_cost = 2.0;        ///< a beat came early and a pause followed
constexpr double early_alone_cost = 2.5;  ///< a beat came early and the rhythm went on from it
constexpr double unexplained_cost = 6.0;  ///< none of these: flagged because it strays by more than 2.4 thresholds
/// What a conspicuous seesaw of two intervals takes off the fixed part of misplaced and early: its square in units of its threshold, less `least_seesaw`, but
/// never so much that such an event would cost less than a normal interval without strain.
constexpr double least_seesaw = 0.5;
constexpr double most_relief = 1.8;
constexpr double most_relief_alone =
    2.2;  ///< off that of an early beat without a pause, where the rhythm goes on from it
/// Of the two faults around a misplaced beat, which are equal but for the heart's own variability (ours).
constexpr double least_symmetry = 0.25;
/// The most beats that may be missing inside one interval; a longer stretch is a gap.
constexpr int most_missed = 3;
/// An early beat comes at least this share of the interval before its time (common practice); less is taken for misplaced.
constexpr double least_prematurity = 0.20;

/// And no earlier than this share of it: the ventricle has not recovered before (common practice; ours as a share).
constexpr double least_coupling = 0.40;

constexpr double never = std::numeric_limits<double>::infinity();

double squared(double x) { return x * x; }

struct Explainer {
  std::span<const double> d;
  const std::vector<std::optional<IntervalVerdict>>& fixed;
  const LocalLevels& levels;
  double shortest_ms;

  /// Strain of `count` intervals of `value` ms each.
  static double strain(double value, int count, const LocalLevel& level) {
    return count * squared(distance_to_range(value, level) / level.threshold);
  }

  double normal(std::size_t i) const { return d[i] < shortest_ms ? never : strain(d[i], 1, levels.around(i, i + 1)); }

  /// Where the rhythm itself is irregular, doubled and halved intervals are weaker evidence.
  double irregular(std::size_t first, std::size_t last) const {
    const LocalLevel level = levels.around(first, last);
    return irregular_cost * squared(squared(levels.seesaw_threshold(first) / std::max(level.before, level.after)));
  }

  double missed(std::size_t i, int beats) const {
    return missed_cost + missed_more_cost * (beats - 1) + irregular(i, i + 1) +
           strain(d[i] / (beats + 1), beats + 1, levels.around(i, i + 1));
  }

  double extra(std::size_t i, std::size_t rows) const {
    double sum = 0.0;
    for (std::size_t k = i; k < i + rows; ++k) sum += d[k];
    return extra_cost + irregular(i, i + rows) + extra_more_cost * static_cast<double>(rows - 2) +
           strain(sum, 1, levels.around(i, i + rows));
  }

  /// What a pair that seesaws more than normal ones do takes off the fixed part of a beat at the wrong time.
  double relief(std::size_t i) const {
    const std::optional<double> swing = levels.seesaw(i);
    if (!swing) return 0.0;
    return std::clamp(squared(*swing / levels.seesaw_threshold(i)) - least_seesaw, 0.0, most_relief);
  }

  /// One interval too long and the other too short, the lesser fault at least `least_symmetry` of the greater.
  bool opposed(std::size_t i) const {
    const double usual = levels.between_neighbours(i);
    const double a = d[i] - usual;
    const double b = d[i + 1] - usual;
    return a * b < 0.0 && std::min(std::abs(a), std::abs(b)) >= least_symmetry * std::max(std::abs(a), std::abs(b));
  }

  double misplaced(std::size_t i) const {
    if (!opposed(i)) return never;
    return misplaced_cost - relief(i) + strain(0.5 * (d[i] + d[i + 1]), 2, levels.around(i, i + 2));
  }

  /// Expected interval at an event: halfway between the levels before and after.
  double expected(std::size_t i, std::size_t rows) const { return 0.5 * (levels.before(i) + levels.after(i + rows)); }

  bool premature(std::size_t i, std::size_t rows) const {
    return d[i] >= std::max(shortest_ms, least_coupling * expected(i, rows)) &&
           d[i] <= (1.0 - least_prematurity) * expected(i, rows);
  }

  /// The pause is longer than usual by half a threshold at least, and at most a full compensation, which makes the two sum to twice the usual.
  double early_with_pause(std::size_t i) const {
    if (!premature(i, 2)) return never;
    const LocalLevel level = levels.around(i, i + 2);
    const double high = std::max(level.before, level.after);
    if (d[i + 1] < high + 0.5 * level.threshold) return never;
    const double beyond = std::max(0.0, d[i] + d[i + 1] - 2.0 * high);
    return early_cost - relief(i) + 2.0 * squared(0.5 * beyond / level.threshold);
  }

  double early_alone(std::size_t i) const {
    if (!premature(i, 1)) return never;
    const bool goes_on = i + 1 < d.size() && d[i + 1] >= (1.0 - least_prematurity) * expected(i, 1);
    return early_alone_cost - (goes_on ? std::min(relief(i), most_relief_alone) : 0.0);
  }
};

}  // namespace

std::vector<Event> explain(std::span<const double> intervals_ms,
                           const std::vector<std::optional<IntervalVerdict>>& fixed, const LocalLevels& levels,
                           const CleanOptions& options) {
  const std::size_t n = intervals_ms.size();
  const Explainer cost{intervals_ms, fixed, levels, 1000.0 * options.shortest.value()};
  std::vector<double> best(n + 1, never);
  std::vector<Event> last(n + 1);  // the event that ends at each boundary on the cheapest way there
  best[0] = 0.0;

  for (std::size_t i = 0; i < n; ++i) {
    const auto offer = [&](std::size_t rows, IntervalVerdict verdict, double price, int missed_inside = 0) {
      if (best[i] + price < best[i + rows]) {
        best[i + rows] = best[i] + price;
        last[i + rows] = {i, rows, verdict, missed_inside};
      }
    };
    if (fixed[i]) {
      offer(1, *fixed[i], 0.0);
      continue;
    }
    // A stretch too long for the missed beats we are willing to put back.
    if (intervals_ms[i] > (most_missed + 1.5) * std::max(levels.before(i), levels.after(i + 1))) {
      offer(1, IntervalVerdict::gap, 0.0);
      continue;
    }
    offer(1, IntervalVerdict::normal, cost.normal(i));
    for (int beats = 1; beats <= most_missed; ++beats)
      offer(1, IntervalVerdict::missed_beat, cost.missed(i, beats), beats);
    offer(1, IntervalVerdict::early_beat, cost.early_alone(i));
    offer(1, IntervalVerdict::misplaced, unexplained_cost);
    if (i + 1 >= n || fixed[i + 1]) continue;
    offer(2, IntervalVerdict::extra_beat, cost.extra(i, 2));
    offer(2, IntervalVerdict::early_beat, cost.early_with_pause(i));
    offer(2, IntervalVerdict::misplaced, cost.misplaced(i));
    if (i + 2 >= n || fixed[i + 2]) continue;
    offer(3, IntervalVerdict::extra_beat, cost.extra(i, 3));
  }

  std::vector<Event> events;
  for (std::size_t at = n; at > 0; at = last[at].first) events.push_back(last[at]);
  std::reverse(events.begin(), events.end());
  return events;
}

}  // namespace pulsewright
