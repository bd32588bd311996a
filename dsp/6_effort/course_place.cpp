#include <algorithm>
#include <cmath>
#include <limits>

#include "class_parts.hpp"

namespace pulsewright {

namespace {

constexpr double least_correlation = 0.7, least_lead = 0.1;
/// In steps of `course_step`: two minutes, and half a minute.
constexpr std::int64_t least_overlap = 60, elsewhere = 15;

/// Correlation of two courses with `member` beginning `lag` steps after `lesson`; nothing where too little of both was measured at once, or one stands still.
std::optional<double> correlation_at(const Course& lesson, const Course& member, std::int64_t lag,
                                     std::int64_t needed) {
  const auto size = static_cast<std::int64_t>(lesson.size()), own = static_cast<std::int64_t>(member.size());
  double n = 0, sx = 0, sy = 0, sxx = 0, syy = 0, sxy = 0;
  for (std::int64_t k = std::max<std::int64_t>(0, -lag); k < own && k + lag < size; ++k) {
    const double x = lesson[static_cast<std::size_t>(k + lag)], y = member[static_cast<std::size_t>(k)];
    if (std::isnan(x) || std::isnan(y)) continue;
    n += 1, sx += x, sy += y, sxx += x * x, syy += y * y, sxy += x * y;
  }
  if (n < static_cast<double>(needed)) return std::nullopt;
  const double vx = sxx - sx * sx / n, vy = syy - sy * sy / n;
  constexpr double still = 1.0;  // (beats/min)^2
  if (vx < still * n || vy < still * n) return std::nullopt;
  return (sxy - sx * sy / n) / std::sqrt(vx * vy);
}

}  // namespace

Course course_of(const ClassMember& member) {
  Course course;
  if (!member.session || member.session->cells.empty()) return course;
  const auto& cells = member.session->cells;
  const double length_s = static_cast<double>(member.session->effort.duration_us) / 1e6;
  const double cell_s = static_cast<double>(cells.front().length_us) / 1e6;
  for (double at = 0.5 * course_step.value(); at < length_s; at += course_step.value()) {
    const auto cell = std::min(static_cast<std::size_t>(at / cell_s), cells.size() - 1);
    const auto& rate = cells[cell].rate;
    course.push_back(rate ? rate->value() : std::numeric_limits<double>::quiet_NaN());
  }
  return course;
}

std::optional<std::int64_t> fit_course(const Course& lesson, const Course& member) {
  const auto size = static_cast<std::int64_t>(lesson.size()), own = static_cast<std::int64_t>(member.size());
  const auto measured = std::count_if(member.begin(), member.end(), [](double rate) { return !std::isnan(rate); });
  const std::int64_t needed = std::max(least_overlap, static_cast<std::int64_t>(measured) / 2);
  std::vector<double> found;  // by lag, from -own; -1 where nothing can be said
  std::size_t best = 0;
  for (std::int64_t lag = -own; lag < size; ++lag) {
    found.push_back(correlation_at(lesson, member, lag, needed).value_or(-1.0));
    if (found.back() > found[best]) best = found.size() - 1;
  }
  if (found.empty() || found[best] < least_correlation) return std::nullopt;
  for (std::size_t k = 0; k < found.size(); ++k) {
    const auto away = std::abs(static_cast<std::int64_t>(k) - static_cast<std::int64_t>(best));
    if (away > elsewhere && found[k] > found[best] - least_lead) return std::nullopt;
  }
  return static_cast<std::int64_t>(best) - own;
}

}  // namespace pulsewright
