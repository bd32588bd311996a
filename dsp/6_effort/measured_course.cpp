#include "measured_course.hpp"

#include <algorithm>

namespace pulsewright {

std::vector<MeasuredPoint> measured_course(std::span<const EffortCell> cells) {
  std::vector<MeasuredPoint> course;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (!cells[i].rate) continue;
    const double centre = static_cast<double>(cells[i].start_us) + 0.5 * static_cast<double>(cells[i].length_us);
    course.push_back({centre / 1e6, cells[i].rate->value(), i});
  }
  return course;
}

double cells_per_window(std::span<const EffortCell> cells, Seconds window) {
  if (cells.empty()) return 1.0;
  return std::max(1.0, window.value() * 1e6 / static_cast<double>(cells.front().length_us));
}

std::span<const MeasuredPoint> points_between(std::span<const MeasuredPoint> course, double from, double to) {
  const auto first =
      std::lower_bound(course.begin(), course.end(), from, [](const MeasuredPoint& p, double t) { return p.time < t; });
  const auto last =
      std::upper_bound(first, course.end(), to, [](double t, const MeasuredPoint& p) { return t < p.time; });
  return {first, last};
}

}  // namespace pulsewright
