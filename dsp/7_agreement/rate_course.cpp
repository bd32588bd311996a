#include "rate_course.hpp"

#include <algorithm>
#include <cmath>

#include "offset_line.hpp"
#include "pulsewright/clean.hpp"
#include "rate_at_any_time.hpp"

namespace pulsewright {
namespace {

struct CoursePoint {
  double time = 0, value = 0;
};

/// Every point at the position of the grid that is nearest.
RateCourse at_points(const std::vector<CoursePoint>& points, double step) {
  RateCourse course;
  if (points.empty()) return course;
  const auto position = [](double time) { return static_cast<std::int64_t>(std::llround(time / course_step_s)); };
  course.first = position(points.front().time);
  course.density = std::min(1.0, course_step_s / step);
  const auto size = static_cast<std::size_t>(position(points.back().time) - course.first + 1);
  course.values.assign(size, 0.0);
  course.weights.assign(size, 0.0);
  for (const CoursePoint& point : points) {
    const auto i = static_cast<std::size_t>(position(point.time) - course.first);
    course.values[i] = point.value;
    course.weights[i] = 1;
  }
  return course;
}

/// Straight lines between points that are no further apart than `longest`.
RateCourse on_grid(const std::vector<CoursePoint>& points, double longest) {
  RateCourse course;
  if (points.empty()) return course;
  course.first = static_cast<std::int64_t>(std::ceil(points.front().time / course_step_s));
  const auto last = static_cast<std::int64_t>(std::floor(points.back().time / course_step_s));
  std::size_t next = 0;
  for (std::int64_t k = course.first; k <= last; ++k) {
    const double time = static_cast<double>(k) * course_step_s;
    while (next < points.size() && points[next].time < time) ++next;
    double value = 0;
    bool known = false;
    if (next < points.size() && points[next].time == time) {
      value = points[next].value;
      known = true;
    } else if (next > 0 && next < points.size() && points[next].time - points[next - 1].time <= longest) {
      const CoursePoint &a = points[next - 1], &b = points[next];
      value = a.value + (b.value - a.value) * (time - a.time) / (b.time - a.time);
      known = true;
    }
    course.values.push_back(known ? value : 0.0);
    course.weights.push_back(known ? 1.0 : 0.0);
  }
  return course;
}

/// Sums of values and weights up to each position, so that the mean over any stretch is two subtractions.
struct RunningSums {
  std::vector<double> values{0}, weights{0};

  explicit RunningSums(const RateCourse& course) {
    for (std::size_t i = 0; i < course.values.size(); ++i) {
      values.push_back(values.back() + course.values[i]);
      weights.push_back(weights.back() + course.weights[i]);
    }
  }
};

/// Mean over `half` steps to either side; unknown where less than `share` of that is known.
RateCourse running_mean(const RateCourse& course, std::size_t half, double share) {
  const RunningSums sums(course);
  RateCourse mean = course;
  const std::size_t size = course.values.size();
  for (std::size_t i = 0; i < size; ++i) {
    const std::size_t from = i > half ? i - half : 0, to = std::min(size, i + half + 1);
    const double known = sums.weights[to] - sums.weights[from];
    const bool enough = known > 0 && known >= share * course.density * static_cast<double>(2 * half + 1);
    mean.values[i] = enough ? (sums.values[to] - sums.values[from]) / known : 0.0;
    mean.weights[i] = enough ? 1.0 : 0.0;
  }
  return mean;
}

/// 60 (N - 1) / (last - first) over the beats within half of `window` of each position of the grid; unknown for fewer than three, or where beats are so far apart
/// that one is missing.
RateCourse rate_around(const std::vector<Seconds>& beats, double window) {
  RateCourse course;
  if (beats.size() < 3) return course;
  course.first = static_cast<std::int64_t>(std::ceil((beats.front().value() + 0.5 * window) / course_step_s));
  const auto last = static_cast<std::int64_t>(std::floor((beats.back().value() - 0.5 * window) / course_step_s));
  constexpr double longest_interval_s = 3.0;
  std::size_t from = 0, to = 0, gaps = 0;  // gaps: long intervals between beats from + 1 and to - 1
  const auto is_gap = [&beats](std::size_t i) { return (beats[i] - beats[i - 1]).value() > longest_interval_s; };
  for (std::int64_t k = course.first; k <= last; ++k) {
    const double time = static_cast<double>(k) * course_step_s;
    for (; to < beats.size() && beats[to].value() < time + 0.5 * window; ++to) gaps += to > from && is_gap(to) ? 1 : 0;
    for (; from < to && beats[from].value() < time - 0.5 * window; ++from)
      gaps -= from + 1 < to && is_gap(from + 1) ? 1 : 0;
    const bool known = to >= from + 3 && gaps == 0;
    const double rate = known ? 60.0 * static_cast<double>(to - from - 1) / (beats[to - 1] - beats[from]).value() : 0;
    course.values.push_back(rate);
    course.weights.push_back(known ? 1.0 : 0.0);
  }
  return course;
}

}  // namespace

RateCourse course_of(const RateSide& side, std::optional<Seconds> smooth, BetweenWindows between) {
  std::vector<CoursePoint> points;
  if (side.beats) {
    constexpr double longest_gap_s = 3.0;
    if (smooth) return rate_around(corrected_beats(*side.beats), smooth->value());
    for (const NormalInterval& interval : normal_series(clean(*side.beats)))
      points.push_back({0.5 * (interval.start + interval.end).value(), 60000.0 / interval.ms});
    return on_grid(points, longest_gap_s);
  }
  double step = 0;
  for (const RateWindow& window : side.rates.windows) {
    const double middle = 0.5 * (window.window.start + window.window.end).value();
    if (!points.empty() && (step == 0 || middle - points.back().time < step)) step = middle - points.back().time;
    if (window.rate) points.push_back({middle, window.rate->value()});
  }
  if (between == BetweenWindows::left_out && step >= course_step_s) return at_points(points, step);
  constexpr double longest_steps = 3.0;
  return on_grid(points, longest_steps * std::max(step, 1.0));
}

RateCourse without_slow_part(const RateCourse& course, Seconds span) {
  const auto half = static_cast<std::size_t>(std::lround(0.5 * span.value() / course_step_s));
  // At the ends of a course half of the span is there; a third leaves room for gaps.
  const RateCourse slow = running_mean(course, half, 1.0 / 3);
  RateCourse rest = course;
  for (std::size_t i = 0; i < rest.values.size(); ++i) {
    rest.weights[i] = course.weights[i] * slow.weights[i];
    rest.values[i] = rest.weights[i] > 0 ? course.values[i] - slow.values[i] : 0.0;
  }
  return rest;
}

RateCourse without_outliers(const RateCourse& reference, const RateCourse& test, std::int64_t lag) {
  RateCourse kept = test;
  const auto difference = [&](std::size_t j) -> std::optional<double> {
    const std::int64_t k = test.first + static_cast<std::int64_t>(j) - lag;
    if (k < reference.first || k >= reference.end() || !(test.weights[j] > 0)) return std::nullopt;
    const auto i = static_cast<std::size_t>(k - reference.first);
    if (!(reference.weights[i] > 0)) return std::nullopt;
    return test.values[j] - reference.values[i];
  };
  std::vector<double> differences;
  for (std::size_t j = 0; j < test.values.size(); ++j)
    if (const auto d = difference(j)) differences.push_back(*d);
  if (differences.empty()) return kept;
  const double usual = median_of(differences);
  for (double& d : differences) d = std::abs(d - usual);
  constexpr double sd_of_median = 1.4826, sds = 4.0;
  // On a steep course a small offset makes differences too; a beat too many or too few in 8 s makes 7.5 beats/min.
  constexpr double least_outlier = 5.0;
  const double most = std::max(least_outlier, sds * sd_of_median * median_of(std::move(differences)));
  for (std::size_t j = 0; j < test.values.size(); ++j) {
    const auto d = difference(j);
    if (!d || std::abs(*d - usual) <= most) continue;
    kept.values[j] = 0;
    kept.weights[j] = 0;
  }
  return kept;
}

CourseMatch match_at(const RateCourse& reference, const RateCourse& test, std::int64_t lag) {
  const std::int64_t from = std::max(reference.first, test.first - lag);
  const std::int64_t to = std::min(reference.end(), test.end() - lag);
  double n = 0, x = 0, y = 0, xx = 0, yy = 0, xy = 0;
  for (std::int64_t k = from; k < to; ++k) {
    const auto i = static_cast<std::size_t>(k - reference.first), j = static_cast<std::size_t>(k + lag - test.first);
    const double w = reference.weights[i] * test.weights[j];
    const double a = w * reference.values[i], b = w * test.values[j];
    n += w;
    x += a;
    y += b;
    xx += a * a;
    yy += b * b;
    xy += a * b;
  }
  CourseMatch match;
  match.common_s = n * course_step_s / (reference.density * test.density);
  if (!(n > 2)) return match;
  const double sxx = xx - x * x / n, syy = yy - y * y / n;
  constexpr double least_variance = 1e-4;  // (0.01 beats/min)^2
  match.varies = sxx > least_variance * n && syy > least_variance * n;
  if (match.varies) match.correlation = (xy - x * y / n) / std::sqrt(sxx * syy);
  return match;
}

}  // namespace pulsewright
