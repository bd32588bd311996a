/// Means and sums of squares of plain series, summed in order.
#pragma once

#include <span>
#include <vector>

#include "pulsewright/paired_agreement.hpp"

namespace pulsewright {

/// `values` must not be empty.
[[nodiscard]] double mean_of(std::span<const double> values);
/// Sum of (value - centre)^2.
[[nodiscard]] double squares_around(std::span<const double> values, double centre);
/// test - reference of every pair.
[[nodiscard]] std::vector<double> differences_of(std::span<const PairedValue> pairs);

/// A straight line by least squares, with what a t test of its slope needs.
struct FittedLine {
  double intercept = 0, slope = 0;
  double slope_error = 0;  ///< standard error
  double degrees = 0;      ///< n - 2
};
/// `x` needs some spread, and both the same size of at least three.
[[nodiscard]] FittedLine fit_line(std::span<const double> x, std::span<const double> y);

}  // namespace pulsewright
