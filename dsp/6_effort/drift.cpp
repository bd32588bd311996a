#include <algorithm>

#include "course_regression.hpp"
#include "pulsewright/kinetics.hpp"

namespace pulsewright {

namespace {

/// A bout's rate has settled after its third minute (common practice), and three more show a slope.
constexpr double settled_after_s = 180.0;
constexpr double least_length_s = 360.0;
constexpr double s_per_10_min = 600.0;

}  // namespace

std::optional<Drift> find_drift(std::span<const EffortCell> cells, Seconds window, std::span<const Phase> phases) {
  std::optional<std::size_t> longest;
  for (std::size_t k = 0; k < phases.size(); ++k)
    if (phases[k].kind == PhaseKind::work && (!longest || phases[k].length_us > phases[*longest].length_us))
      longest = k;
  if (!longest || phases[*longest].span().length().value() < least_length_s) return std::nullopt;
  const Span bout = phases[*longest].span();
  Drift drift;
  drift.phase = *longest;
  drift.where = {bout.start + Seconds{settled_after_s}, bout.end};
  const std::vector<MeasuredPoint> course = measured_course(cells);
  const auto line =
      line_through(points_between(course, drift.where.start.value(), drift.where.end.value() - 0.5 * window.value()),
                   cells_per_window(cells, window));
  if (!line || !(line->slope_half_width > 0.0)) return std::nullopt;
  drift.bpm_per_10_min = s_per_10_min * line->slope;
  drift.low = s_per_10_min * (line->slope - line->slope_half_width);
  drift.high = s_per_10_min * (line->slope + line->slope_half_width);
  return drift;
}

}  // namespace pulsewright
