#include "interval_guess.hpp"

#include <algorithm>

#include "pulsewright/median.hpp"

namespace pulsewright::reading {

namespace {

/// An interval between heartbeats, in seconds: 300 and 20 beats/min.
constexpr double shortest_s = 0.2;
constexpr double longest_s = 3.0;
constexpr double ms_per_s = 1000;

bool is_interval(double seconds) { return shortest_s <= seconds && seconds <= longest_s; }

}  // namespace

std::optional<IntervalGuess> guess_intervals(std::vector<double> values) {
  if (values.empty() || std::any_of(values.begin(), values.end(), [](double v) { return !(v > 0); }))
    return std::nullopt;
  const double middle = upper_median(std::span(values));
  if (is_interval(middle)) return IntervalGuess{middle, "s"};
  if (is_interval(middle / ms_per_s)) return IntervalGuess{middle, "ms"};
  return std::nullopt;
}

}  // namespace pulsewright::reading
