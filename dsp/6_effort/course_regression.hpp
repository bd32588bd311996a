/// Least squares over points of a rate course, with intervals that know that neighbouring points lean on the same beats.
#pragma once

#include <optional>
#include <span>

#include "measured_course.hpp"

namespace pulsewright {

/// The straight line through some points.
struct CourseLine {
  double bpm = 0;               ///< at `time`
  double slope = 0;             ///< beats/min a second
  double time = 0;              ///< the points' mean time
  double slope_half_width = 0;  ///< half of the 95 % interval of the slope; 0 with too few points to tell

  [[nodiscard]] double at(double t) const { return bpm + slope * (t - time); }
};

/// Nothing for fewer than two points. `correlated_points`: how many neighbours say the same thing once.
[[nodiscard]] std::optional<CourseLine> line_through(std::span<const MeasuredPoint> points, double correlated_points);

/// An exponential level + size (1 - e^(-(t - start) / tau)) [+ slope (t - start)].
struct ExponentialCourse {
  double start = 0, level = 0, size = 0, slope = 0, tau = 1;
  double tau_half_width = 0;  ///< half of the 95 % interval
  double explained = 0;       ///< share of the variance of the points

  [[nodiscard]] double at(double t) const;
};

/// The best exponential over tau from 3 to 240 s. Nothing with fewer points than tell its parameters and their error.
[[nodiscard]] std::optional<ExponentialCourse> exponential_through(std::span<const MeasuredPoint> points, double start,
                                                                   bool with_slope, double correlated_points);

/// The 97.5 % point of Student's t distribution.
[[nodiscard]] double student_quantile(double degrees_of_freedom);

}  // namespace pulsewright
