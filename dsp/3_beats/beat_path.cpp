#include "beat_path.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace pulsewright {
namespace {

// Costs, in units of log-odds, set on the development records. Below 0.36 s an interval costs more the shorter it is;
// early and late beats cost by how far they leave the local rhythm, on a logarithmic scale, with more freedom where it is irregular.
constexpr double crowded_s = 0.36;
constexpr double crowded_cost_per_s = 10.0;
constexpr double early_cost = 2.0;
constexpr double early_freedom = 0.5;
constexpr double late_cost = 5.0;
constexpr double late_freedom = 0.3;
constexpr double irregular_freedom = 2.0;

// Intervals to either side from which the rhythm is taken.
constexpr std::size_t rhythm_reach = 8;
// No interval on a path is longer; over a longer silence the path starts anew.
constexpr double longest_pause_s = 6.0;
// A candidate this certain is on every path that passes it at this distance.
constexpr double certain_log_odds = 6.0;
constexpr double certain_distance_s = 0.40;

// Rhythm where nothing is known yet: 75 beats/min, quite irregular.
constexpr double default_period_s = 0.8;
constexpr double default_irregularity = 0.15;

struct Rhythm {
  double log_period;
  double irregularity;  // median absolute change of the logarithm of the interval
};

double median_around(const std::vector<double>& values, std::size_t centre) {
  const std::size_t first = centre > rhythm_reach ? centre - rhythm_reach : 0;
  const std::size_t last = std::min(values.size(), centre + rhythm_reach + 1);
  std::array<double, 2 * rhythm_reach + 1> window{};
  const auto end = std::copy(values.begin() + static_cast<std::ptrdiff_t>(first),
                             values.begin() + static_cast<std::ptrdiff_t>(last), window.begin());
  const auto middle = window.begin() + (end - window.begin()) / 2;
  std::nth_element(window.begin(), middle, end);
  return *middle;
}

// Rhythm at each candidate.
std::vector<Rhythm> rhythm_at(const std::vector<PathNode>& nodes, Hertz rate) {
  std::vector<double> log_interval, change;
  const PathNode* previous = nullptr;
  for (const PathNode& c : nodes) {
    if (!c.beat) continue;
    if (previous != nullptr) log_interval.push_back(std::log(static_cast<double>(c.at - previous->at) / rate.value()));
    previous = &c;
  }
  for (std::size_t i = 0; i + 1 < log_interval.size(); ++i)
    change.push_back(std::abs(log_interval[i + 1] - log_interval[i]));

  std::vector<Rhythm> at_interval(log_interval.size());
  for (std::size_t i = 0; i < log_interval.size(); ++i) {
    at_interval[i].log_period = median_around(log_interval, i);
    at_interval[i].irregularity =
        change.empty() ? default_irregularity : median_around(change, std::min(i, change.size() - 1));
  }
  std::vector<Rhythm> rhythm(nodes.size(), {std::log(default_period_s), default_irregularity});
  if (at_interval.empty()) return rhythm;
  std::size_t beats_passed = 0;
  for (std::size_t k = 0; k < nodes.size(); ++k) {
    const std::size_t interval = beats_passed == 0 ? 0 : std::min(beats_passed - 1, at_interval.size() - 1);
    rhythm[k] = at_interval[interval];
    if (nodes[k].beat) ++beats_passed;
  }
  return rhythm;
}

double interval_cost(double interval_s, const Rhythm& rhythm) {
  double cost = 0;
  if (interval_s < crowded_s) cost += crowded_cost_per_s * (crowded_s - interval_s);
  const double departure = std::log(interval_s) - rhythm.log_period;
  const double freedom = irregular_freedom * rhythm.irregularity;
  if (departure < 0) {
    cost += early_cost * std::max(0.0, -departure - early_freedom - freedom);
  } else {
    cost += late_cost * std::max(0.0, departure - late_freedom - freedom);
  }
  return cost;
}

}  // namespace

void choose_best_path(std::vector<PathNode>& nodes, Hertz rate, Seconds refractory) {
  if (nodes.empty()) return;
  const std::vector<Rhythm> rhythm = rhythm_at(nodes, rate);
  constexpr double nothing = -std::numeric_limits<double>::infinity();
  constexpr std::size_t none = std::numeric_limits<std::size_t>::max();
  const std::size_t size = nodes.size();
  std::vector<double> value(size, nothing);
  std::vector<std::size_t> from(size, none);

  for (std::size_t j = 0; j < size; ++j) {
    double best = nothing;
    bool in_reach = false;
    for (std::size_t i = j; i-- > 0;) {
      const double interval = static_cast<double>(nodes[j].at - nodes[i].at) / rate.value();
      if (interval > longest_pause_s) break;
      if (interval < refractory.value()) continue;
      in_reach = true;
      const double total = value[i] - interval_cost(interval, rhythm[j]);
      if (total > best) {
        best = total;
        from[j] = i;
      }
      if (nodes[i].log_odds > certain_log_odds && interval > certain_distance_s) break;
    }
    const double elapsed = static_cast<double>(nodes[j].at - nodes.front().at) / rate.value();
    if (!in_reach && j > 0 && elapsed > longest_pause_s) {
      // A long silence: continue from the best path that ended before it.
      from[j] = static_cast<std::size_t>(
          std::max_element(value.begin(), value.begin() + static_cast<std::ptrdiff_t>(j)) - value.begin());
      best = value[from[j]];
    } else if (elapsed < 2.0 && best < 0) {
      // Near the start a path may begin anywhere.
      best = 0;
      from[j] = none;
    }
    value[j] = (best == nothing ? 0.0 : best) + nodes[j].log_odds;
  }

  // The path may end at any candidate late enough.
  std::size_t end = size - 1;
  for (std::size_t i = size; i-- > 0;) {
    if (static_cast<double>(nodes.back().at - nodes[i].at) / rate.value() > longest_pause_s) break;
    if (value[i] > value[end]) end = i;
  }
  for (PathNode& c : nodes) c.beat = false;
  for (std::size_t k = end; k != none; k = from[k]) nodes[k].beat = true;
}

}  // namespace pulsewright
