/// Where the demand on a heart changed, told from its rate.
#pragma once

#include <span>
#include <vector>

#include "course_fit.hpp"
#include "measured_course.hpp"

namespace pulsewright {

/// A piece of the course between two changes: points [first, last).
struct CoursePiece {
  std::size_t first = 0, last = 0;
  CourseFit fit;
};

struct ChangeOptions {
  double shortest_s = 20.0;
  double correlated_cells = 4.0;  ///< neighbouring points that say the same thing once
};

/// The pieces of least cost, as `find_phases` says. Not empty unless the course is. The dynamic programme looks at no more than some 600 possible cuts,
/// so that a long session is cut on a coarser grid first; moving the cuts afterwards undoes that.
[[nodiscard]] std::vector<CoursePiece> find_changes(std::span<const MeasuredPoint> course,
                                                    const ChangeOptions& options);

/// Fits one piece.
[[nodiscard]] CourseFit fit_piece(std::span<const MeasuredPoint> points);

}  // namespace pulsewright
