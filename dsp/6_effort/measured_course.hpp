/// The measured cells of a session as points in time.
#pragma once

#include <span>
#include <vector>

#include "pulsewright/effort.hpp"

namespace pulsewright {

/// A measured cell: its centre in seconds, and its rate in beats/min.
struct MeasuredPoint {
  double time = 0;
  double bpm = 0;
  std::size_t cell = 0;
};

[[nodiscard]] std::vector<MeasuredPoint> measured_course(std::span<const EffortCell> cells);

/// Cells whose rates say the same thing once: as many as fit into one window, at least 1. Windows overlap, and so do their errors.
[[nodiscard]] double cells_per_window(std::span<const EffortCell> cells, Seconds window);

/// The points with `from` <= time <= `to`.
[[nodiscard]] std::span<const MeasuredPoint> points_between(std::span<const MeasuredPoint> course, double from,
                                                            double to);

}  // namespace pulsewright
