#include "upstroke_foot.hpp"

#include <algorithm>
#include <cmath>

#include "pulse_candidates.hpp"

namespace pulsewright::beats_stage {
namespace {

/// Where a parabola through three neighbours at -1, 0 and 1 has its extreme.
double extreme_of(double before, double here, double after) {
  const double bend = before - 2.0 * here + after;
  return bend == 0.0 ? 0.0 : std::clamp(0.5 * (before - after) / bend, -0.5, 0.5);
}

}  // namespace

std::optional<double> upstroke_foot(std::span<const float> wave, std::size_t previous, std::size_t peak, Hertz rate) {
  if (peak >= wave.size() || previous >= peak) return std::nullopt;
  const auto reach = static_cast<std::size_t>(std::lround(samples_in(longest_rise, rate)));
  const std::size_t first = std::max(previous, peak - std::min(peak, reach));
  const auto begin = wave.begin() + static_cast<std::ptrdiff_t>(first);
  const auto lowest = static_cast<std::size_t>(
      std::min_element(begin, wave.begin() + static_cast<std::ptrdiff_t>(peak)) - wave.begin());
  // Slopes are those from a sample to the next, and belong to the middle between them.
  const auto slope = [wave](std::size_t i) { return static_cast<double>(wave[i + 1] - wave[i]); };
  std::size_t steepest = lowest;
  for (std::size_t i = lowest; i < peak; ++i) {
    if (slope(i) > slope(steepest)) steepest = i;
  }
  if (!(slope(steepest) > 0.0)) return std::nullopt;
  double away = 0.0, rise = slope(steepest);
  if (steepest > 0 && steepest + 2 < wave.size()) {
    const double before = slope(steepest - 1), after = slope(steepest + 1);
    away = extreme_of(before, rise, after);
    rise -= 0.25 * (before - after) * away;
  }
  const double height =
      0.5 * static_cast<double>(wave[steepest] + wave[steepest + 1]) + away * rise - static_cast<double>(wave[lowest]);
  const double foot = static_cast<double>(steepest) + 0.5 + away - height / rise;
  return std::clamp(foot, static_cast<double>(lowest), static_cast<double>(peak));
}

}  // namespace pulsewright::beats_stage
