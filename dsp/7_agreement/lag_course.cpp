#include "lag_course.hpp"

#include <algorithm>
#include <cmath>

#include "course_lag.hpp"
#include "offset_line.hpp"

namespace pulsewright {
namespace {

constexpr double stretch_s = 180, long_stretch_s = 300, long_record_s = 3600;
constexpr std::size_t fewest_lags = 5, fewest_on_a_side = 2;
/// Lags of a stretch are known to about so much where the hearts are calm.
constexpr double steady_within_s = 1.5, level_within_s = 1.0;
constexpr double least_step_s = 2.0, least_reach_s = 3.0;
constexpr double most_of_them = 0.75;

/// The part of a course between two times.
RateCourse part_of(const RateCourse& course, double from_s, double to_s) {
  const auto at = [](double s) { return static_cast<std::int64_t>(std::lround(s / course_step_s)); };
  const std::int64_t first = std::clamp(at(from_s), course.first, course.end());
  const std::int64_t last = std::clamp(at(to_s), first, course.end());
  const auto cut = [&](const std::vector<double>& values) {
    return std::vector<double>(values.begin() + (first - course.first), values.begin() + (last - course.first));
  };
  return {first, course.density, cut(course.values), cut(course.weights)};
}

/// Share of the lags that keep within `reach` of what `expected` says at their times.
template <class Expected>
double share_within(const std::vector<StretchOffset>& lags, double reach, const Expected& expected) {
  const auto inside = std::count_if(lags.begin(), lags.end(), [&](const StretchOffset& lag) {
    return std::abs(lag.offset.value() - expected(lag.at.value())) <= reach;
  });
  return static_cast<double>(inside) / static_cast<double>(lags.size());
}

std::vector<double> values_of(std::vector<StretchOffset>::const_iterator from,
                              std::vector<StretchOffset>::const_iterator to) {
  std::vector<double> values;
  for (; from != to; ++from) values.push_back(from->offset.value());
  return values;
}

bool is_steady(const std::vector<StretchOffset>& lags) {
  const double slope = std::clamp(line_through(lags)->slope, -1e-6 * most_drift_ppm, 1e-6 * most_drift_ppm);
  std::vector<double> levels;
  levels.reserve(lags.size());
  for (const StretchOffset& lag : lags) levels.push_back(lag.offset.value() - slope * lag.at.value());
  const double level = median_of(std::move(levels));
  return share_within(lags, steady_within_s, [&](double t) { return level + slope * t; }) >= most_of_them;
}

/// The two levels that most lags keep to, if there are such.
bool has_step(const std::vector<StretchOffset>& lags, LagShape& shape) {
  double most = 0;
  for (std::size_t k = fewest_on_a_side; k + fewest_on_a_side <= lags.size(); ++k) {
    const auto split = lags.begin() + static_cast<std::ptrdiff_t>(k);
    const double before = median_of(values_of(lags.begin(), split)), after = median_of(values_of(split, lags.end()));
    const double at = 0.5 * ((split - 1)->at + split->at).value();
    const double share = share_within(lags, level_within_s, [&](double t) { return t < at ? before : after; });
    if (share <= most || std::abs(after - before) < least_step_s) continue;
    most = share;
    shape.step_at_s = at;
    shape.before_s = before;
    shape.after_s = after;
  }
  return most > most_of_them;
}

/// Whether lags move far, and less from one stretch to the one after the next, which it shares no time with.
bool moves_smoothly(const std::vector<StretchOffset>& lags, LagShape& shape) {
  std::vector<double> sorted = values_of(lags.begin(), lags.end()), steps;
  std::sort(sorted.begin(), sorted.end());
  const auto at = [&sorted](double share) {
    return sorted[static_cast<std::size_t>(std::lround(share * static_cast<double>(sorted.size() - 1)))];
  };
  constexpr double lowest = 0.1, highest = 0.9;
  shape.lowest_s = at(lowest);
  shape.highest_s = at(highest);
  const double reach = shape.highest_s - shape.lowest_s;
  for (std::size_t i = 2; i < lags.size(); ++i)
    steps.push_back(std::abs((lags[i].offset - lags[i - 2].offset).value()));
  return reach >= least_reach_s && median_of(std::move(steps)) < reach / 2;
}

}  // namespace

std::vector<StretchOffset> lags_along(const RateCourse& reference, const RateCourse& test, Seconds middle,
                                      const AlignmentOptions& options) {
  std::vector<StretchOffset> lags;
  const double start = static_cast<double>(reference.first) * course_step_s;
  const double end = static_cast<double>(reference.end()) * course_step_s;
  const double length = end - start >= long_record_s ? long_stretch_s : stretch_s;
  const double reach = options.farthest.value() + stretch_s / 2;
  AlignmentOptions own = options;
  own.least_common = Seconds{length / 2};
  for (double from = start; from + length <= end; from += length / 2) {
    const RateCourse stretch = part_of(reference, from, from + length);
    const double other = from + middle.value();
    const CourseLag lag = find_lag(stretch, part_of(test, other - reach, other + length + reach), middle, own);
    if (lag.refusal.empty()) lags.push_back({Seconds{from + length / 2}, Seconds{lag.lag_s}});
  }
  return lags;
}

LagShape shape_of(const std::vector<StretchOffset>& lags) {
  LagShape shape;
  if (lags.size() < fewest_lags || is_steady(lags)) return shape;
  if (has_step(lags, shape))
    shape.kind = LagShape::Kind::step;
  else if (moves_smoothly(lags, shape))
    shape.kind = LagShape::Kind::wandering;
  return shape;
}

}  // namespace pulsewright
