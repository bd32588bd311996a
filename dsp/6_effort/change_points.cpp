#include "change_points.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "elementary/elementary.hpp"
#include "pulsewright/median.hpp"

namespace pulsewright {

namespace {

/// Possible cuts that the dynamic programme looks at; its work grows with their square.
constexpr std::size_t most_cuts = 600;
/// Cells between possible cuts before they are moved to the best cell.
constexpr std::size_t usual_stride = 3;
/// Level, slope, size and tau of a piece, and where it is cut off.
constexpr double parameters_per_piece = 5.0;
/// Less noise than this is not believed, beats/min: an 8 s window rounds a swing of the rate no better.
constexpr double least_noise_bpm = 1.0;
/// Median of the magnitude of a standard normal variable.
constexpr double normal_median = 0.6745;

/// Noise of one point, from second differences over windows that do not overlap.
double noise_of(std::span<const MeasuredPoint> course, double correlated_cells) {
  const auto lag = static_cast<std::size_t>(std::ceil(correlated_cells));
  std::vector<double> second;
  for (std::size_t i = lag; i + lag < course.size(); ++i)
    second.push_back(std::abs(course[i - lag].bpm - 2.0 * course[i].bpm + course[i + lag].bpm));
  if (second.empty()) return least_noise_bpm;
  return std::max(least_noise_bpm,
                  upper_median(std::span(second)) / (normal_median * std::sqrt(6.0)));  // 1 + 4 + 1 variances
}

double price_of_piece(std::span<const MeasuredPoint> course, const ChangeOptions& options) {
  const double noise = noise_of(course, options.correlated_cells);
  const double independent = std::max(2.0, static_cast<double>(course.size()) / options.correlated_cells);
  return options.correlated_cells * parameters_per_piece * elementary::log(independent) * noise * noise;
}

/// Cuts at every `stride`-th point, first and end included.
std::vector<std::size_t> possible_cuts(std::size_t points) {
  const std::size_t stride = std::max(usual_stride, points / most_cuts + 1);
  std::vector<std::size_t> cuts;
  for (std::size_t at = 0; at < points; at += stride) cuts.push_back(at);
  cuts.push_back(points);
  return cuts;
}

double length_of(std::span<const MeasuredPoint> course, std::size_t first, std::size_t last) {
  return last < course.size() ? course[last].time - course[first].time : course[last - 1].time - course[first].time;
}

/// The cuts of least cost, 0 and the end included.
std::vector<std::size_t> cheapest_cuts(std::span<const MeasuredPoint> course, const ChangeOptions& options) {
  const std::vector<std::size_t> cuts = possible_cuts(course.size());
  const double price = price_of_piece(course, options);
  std::vector<double> cost(cuts.size(), std::numeric_limits<double>::infinity());
  std::vector<std::size_t> came_from(cuts.size(), 0);
  cost[0] = 0.0;
  for (std::size_t from = 0; from + 1 < cuts.size(); ++from) {
    if (!std::isfinite(cost[from])) continue;
    const std::size_t first = cuts[from];
    CourseSums sums(course[first].time, course[first].bpm);
    std::size_t next = first;
    for (std::size_t to = from + 1; to < cuts.size(); ++to) {
      for (; next < cuts[to]; ++next) sums.add(course[next].time, course[next].bpm);
      const bool whole = from == 0 && to + 1 == cuts.size();
      if (!whole && length_of(course, first, cuts[to]) < options.shortest_s) continue;
      const double total = cost[from] + sums.best().residual + price;
      if (total < cost[to]) {
        cost[to] = total;
        came_from[to] = from;
      }
    }
  }
  std::vector<std::size_t> chosen;
  for (std::size_t at = cuts.size() - 1; at > 0; at = came_from[at]) chosen.push_back(cuts[at]);
  chosen.push_back(0);
  std::reverse(chosen.begin(), chosen.end());
  return chosen;
}

/// Moves each cut to the point that fits its two neighbours best, until none moves.
void move_to_best_points(std::span<const MeasuredPoint> course, std::vector<std::size_t>& cuts,
                         const ChangeOptions& options) {
  const std::size_t reach = 2 * std::max(usual_stride, course.size() / most_cuts + 1);
  constexpr int most_rounds = 4;
  bool moved = true;
  for (int round = 0; round < most_rounds && moved; ++round) {
    moved = false;
    for (std::size_t k = 1; k + 1 < cuts.size(); ++k) {
      const std::size_t before = cuts[k - 1], after = cuts[k + 1];
      double least = std::numeric_limits<double>::infinity();
      std::size_t best = cuts[k];
      const std::size_t low = std::max(before + 1, cuts[k] - std::min(cuts[k], reach));
      for (std::size_t at = low; at < std::min(after, cuts[k] + reach + 1); ++at) {
        if (at != cuts[k] &&
            (length_of(course, before, at) < options.shortest_s || length_of(course, at, after) < options.shortest_s))
          continue;
        const double residual = fit_piece(course.subspan(before, at - before)).residual +
                                fit_piece(course.subspan(at, after - at)).residual;
        if (residual < least) {
          least = residual;
          best = at;
        }
      }
      moved = moved || best != cuts[k];
      cuts[k] = best;
    }
  }
}

}  // namespace

CourseFit fit_piece(std::span<const MeasuredPoint> points) {
  if (points.empty()) return {};
  CourseSums sums(points.front().time, points.front().bpm);
  for (const MeasuredPoint& point : points) sums.add(point.time, point.bpm);
  return sums.best();
}

std::vector<CoursePiece> find_changes(std::span<const MeasuredPoint> course, const ChangeOptions& options) {
  std::vector<CoursePiece> pieces;
  if (course.empty()) return pieces;
  std::vector<std::size_t> cuts = cheapest_cuts(course, options);
  move_to_best_points(course, cuts, options);
  for (std::size_t k = 0; k + 1 < cuts.size(); ++k)
    pieces.push_back({cuts[k], cuts[k + 1], fit_piece(course.subspan(cuts[k], cuts[k + 1] - cuts[k]))});
  return pieces;
}

}  // namespace pulsewright
