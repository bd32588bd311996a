#include "viterbi_path.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "elementary/elementary.hpp"
#include "window_medians.hpp"

namespace pulsewright::beats_stage {
namespace {

// At rates at which the crowded interval is the rhythm itself, shorter than this share of it is crowded.
constexpr double crowded_share = 0.85;

// Intervals to either side from which the rhythm is taken.
constexpr std::size_t rhythm_reach = 8;
// An interval on a path is longer only where a heart may pause; a longer silence without a candidate begins a new stretch.
constexpr double longest_pause_s = 6.0;
// A stretch may be entered this late.
constexpr double entry_reach_s = 2.0;
// A candidate this certain is on every path that passes it at this distance.
constexpr double certain_log_odds = 6.0;
constexpr double certain_distance_s = 0.40;

// A path that has not settled by then goes to and fro.
constexpr int most_passes = 4;

// Rhythm where nothing is known yet: 75 beats/min, quite irregular.
constexpr double default_period_s = 0.8;
constexpr double default_irregularity = 0.15;

// What an interval that ends at a node costs.
class IntervalCost {
 public:
  IntervalCost(const Rhythm& rhythm, const PathCosts& costs)
      : costs_(costs),
        log_period_(rhythm.log_period),
        crowded_(std::min(costs.crowded.value(), crowded_share * elementary::exp(rhythm.log_period))),
        freedom_(costs.irregular_freedom * rhythm.irregularity) {}

  double operator()(double interval_s, double log_interval) const {
    double cost = 0;
    if (interval_s < crowded_) cost += costs_.crowded_per_s * (crowded_ - interval_s);
    const double departure = log_interval - log_period_;
    if (departure < 0) {
      cost += costs_.early * std::max(0.0, -departure - costs_.early_freedom - freedom_);
    } else {
      cost += std::min(costs_.most_late, costs_.late * std::max(0.0, departure - costs_.late_freedom - freedom_));
    }
    return cost;
  }

 private:
  const PathCosts& costs_;
  double log_period_, crowded_, freedom_;
};

// Logarithms of intervals, which are whole numbers of samples: each is computed once.
class LogIntervals {
 public:
  explicit LogIntervals(Hertz rate)
      : rate_(rate), known_(static_cast<std::size_t>(longest_pause_s * rate.value()) + 2, unknown) {}

  double of(std::size_t samples) {
    double& log = known_[samples];
    if (log == unknown) log = elementary::log(static_cast<double>(samples) / rate_.value());
    return log;
  }

 private:
  static constexpr double unknown = std::numeric_limits<double>::infinity();
  Hertz rate_;
  std::vector<double> known_;
};

}  // namespace

std::vector<Rhythm> rhythm_at(const std::vector<PathNode>& nodes, Hertz rate) {
  std::vector<float> log_interval, change;
  const PathNode* previous = nullptr;
  for (const PathNode& c : nodes) {
    if (!c.beat) continue;
    if (previous != nullptr && previous->stretch == c.stretch)
      log_interval.push_back(
          static_cast<float>(elementary::log(static_cast<double>(c.at - previous->at) / rate.value())));
    previous = &c;
  }
  for (std::size_t i = 0; i + 1 < log_interval.size(); ++i)
    change.push_back(std::abs(log_interval[i + 1] - log_interval[i]));

  const std::vector<float> usual_interval = window_medians(log_interval, rhythm_reach),
                           usual_change = window_medians(change, rhythm_reach);
  std::vector<Rhythm> at_interval(log_interval.size());
  for (std::size_t i = 0; i < log_interval.size(); ++i) {
    at_interval[i].log_period = static_cast<double>(usual_interval[i]);
    at_interval[i].irregularity =
        change.empty() ? default_irregularity : static_cast<double>(usual_change[std::min(i, change.size() - 1)]);
  }
  std::vector<Rhythm> rhythm(nodes.size(), {elementary::log(default_period_s), default_irregularity});
  if (at_interval.empty()) return rhythm;
  std::size_t beats_passed = 0;
  for (std::size_t k = 0; k < nodes.size(); ++k) {
    const std::size_t interval = beats_passed == 0 ? 0 : std::min(beats_passed - 1, at_interval.size() - 1);
    rhythm[k] = at_interval[interval];
    if (nodes[k].beat) ++beats_passed;
  }
  return rhythm;
}

void choose_viterbi_path(std::vector<PathNode>& nodes, Hertz rate, Seconds refractory, const PathCosts& costs) {
  if (nodes.empty()) return;
  const std::vector<Rhythm> rhythm = rhythm_at(nodes, rate);
  constexpr double nothing = -std::numeric_limits<double>::infinity();
  const std::size_t size = nodes.size();
  const std::size_t none = size;
  std::vector<double> value(size, nothing);
  std::vector<std::size_t> from(size, none);
  const auto seconds_between = [&](std::size_t i, std::size_t j) {
    return static_cast<double>(nodes[j].at - nodes[i].at) / rate.value();
  };

  LogIntervals log_intervals{rate};
  const bool pauses = std::isfinite(costs.most_late);

  // Stretch by stretch: each is entered from the best path so far, anywhere near its start, at no cost.
  double entry_value = 0;
  std::size_t entry = none;
  for (std::size_t first = 0; first < size;) {
    std::size_t last = first + 1;
    while (last < size && nodes[last].stretch == nodes[first].stretch &&
           seconds_between(last - 1, last) <= longest_pause_s) {
      ++last;
    }
    std::size_t far = first;  // the first node that is not further back than the longest pause
    std::size_t best_far = none;
    for (std::size_t j = first; j < last; ++j) {
      double best = nothing;
      const IntervalCost cost{rhythm[j], costs};
      for (; seconds_between(far, j) > longest_pause_s; ++far)
        if (best_far == none || value[far] > value[best_far]) best_far = far;
      if (best_far != none && pauses) {
        best = value[best_far] - costs.most_late;
        from[j] = best_far;
      }
      for (std::size_t i = j; i-- > first;) {
        const double interval = seconds_between(i, j);
        if (interval > longest_pause_s) break;
        if (interval < refractory.value()) continue;
        const double total = value[i] - cost(interval, log_intervals.of(nodes[j].at - nodes[i].at));
        if (total > best) {
          best = total;
          from[j] = i;
        }
        if (nodes[i].log_odds > certain_log_odds && interval > certain_distance_s) break;
      }
      if (best == nothing || (seconds_between(first, j) < entry_reach_s && entry_value > best)) {
        best = entry_value;
        from[j] = entry;
      }
      value[j] = best + costs.evidence * nodes[j].log_odds + costs.for_a_beat;
    }
    // A stretch may end at any node late enough, or have no beat at all.
    for (std::size_t i = last; i-- > first && seconds_between(i, last - 1) <= longest_pause_s;) {
      if (value[i] > entry_value) {
        entry_value = value[i];
        entry = i;
      }
    }
    first = last;
  }

  for (PathNode& node : nodes) node.beat = false;
  for (std::size_t k = entry; k != none; k = from[k]) nodes[k].beat = true;
}

void settle_viterbi_path(std::vector<PathNode>& nodes, Hertz rate, Seconds refractory, const PathCosts& costs) {
  std::vector<bool> before(nodes.size());
  const auto beats_are_new = [&] {
    bool any = false;
    for (std::size_t i = 0; i < nodes.size(); ++i) {
      any = any || before[i] != nodes[i].beat;
      before[i] = nodes[i].beat;
    }
    return any;
  };
  beats_are_new();
  for (int pass = 0; pass < most_passes; ++pass) {
    choose_viterbi_path(nodes, rate, refractory, costs);
    if (!beats_are_new()) return;
  }
}

}  // namespace pulsewright::beats_stage
