#include "course_regression.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "dense_solve.hpp"
#include "elementary/elementary.hpp"

namespace pulsewright {

namespace {

constexpr double shortest_tau_s = 3.0, longest_tau_s = 240.0;

/// Columns 1, 1 - e^(-t/tau) and, where asked for, t.
Eigen::MatrixXd design(std::span<const MeasuredPoint> points, double start, double tau, bool with_slope) {
  Eigen::MatrixXd columns(static_cast<Eigen::Index>(points.size()), with_slope ? 3 : 2);
  for (std::size_t i = 0; i < points.size(); ++i) {
    const auto row = static_cast<Eigen::Index>(i);
    const double t = points[i].time - start;
    columns(row, 0) = 1.0;
    columns(row, 1) = 1.0 - elementary::exp(-t / tau);
    if (with_slope) columns(row, 2) = t;
  }
  return columns;
}

Eigen::VectorXd rates(std::span<const MeasuredPoint> points) {
  Eigen::VectorXd values(static_cast<Eigen::Index>(points.size()));
  for (std::size_t i = 0; i < points.size(); ++i) values(static_cast<Eigen::Index>(i)) = points[i].bpm;
  return values;
}

struct Trial {
  Eigen::VectorXd coefficients;
  double residual = 0;
};

Trial trial(std::span<const MeasuredPoint> points, const Eigen::VectorXd& y, double start, double tau,
            bool with_slope) {
  const Eigen::MatrixXd x = design(points, start, tau, with_slope);
  Trial result;
  result.coefficients = least_squares(x, y);
  result.residual = (y - x * result.coefficients).squaredNorm();
  return result;
}

/// The tau of least residual: a grid, then golden section in log tau.
double best_tau(std::span<const MeasuredPoint> points, const Eigen::VectorXd& y, double start, bool with_slope) {
  constexpr int grid = 40, sections = 30;
  const double low = elementary::log(shortest_tau_s), width = elementary::log(longest_tau_s) - low;
  const auto residual = [&](double u) { return trial(points, y, start, elementary::exp(u), with_slope).residual; };
  int best = 0;
  double least = std::numeric_limits<double>::infinity();
  for (int k = 0; k <= grid; ++k) {
    const double r = residual(low + width * k / grid);
    if (r < least) {
      least = r;
      best = k;
    }
  }
  double a = low + width * std::max(0, best - 1) / grid, b = low + width * std::min(grid, best + 1) / grid;
  const double golden = 0.5 * (std::sqrt(5.0) - 1.0);
  double c = b - golden * (b - a), d = a + golden * (b - a);
  double at_c = residual(c), at_d = residual(d);
  for (int k = 0; k < sections; ++k) {
    if (at_c < at_d) {
      b = d;
      d = c;
      at_d = at_c;
      c = b - golden * (b - a);
      at_c = residual(c);
    } else {
      a = c;
      c = d;
      at_c = at_d;
      d = a + golden * (b - a);
      at_d = residual(d);
    }
  }
  return elementary::exp(0.5 * (a + b));
}

/// What noise does not account for: windows that reach over the edges of a phase, edges a few seconds off. Share of a time constant that 95 % of errors lie
/// within where there is no noise at all (the simulated class, whose hearts beat like clocks).
constexpr double unexplained_share = 0.03;

}  // namespace

double student_quantile(double degrees_of_freedom) {
  // Expansion about the normal quantile (Abramowitz & Stegun 1964, 26.7.5; from memory), here good to 1 % from 3 degrees of freedom on.
  constexpr double z = 1.959963984540054;
  constexpr double z3 = z * z * z, z5 = z3 * z * z, z7 = z5 * z * z;
  const double v = std::max(3.0, degrees_of_freedom);
  return z + (z3 + z) / (4.0 * v) + (5.0 * z5 + 16.0 * z3 + 3.0 * z) / (96.0 * v * v) +
         (3.0 * z7 + 19.0 * z5 + 17.0 * z3 - 15.0 * z) / (384.0 * v * v * v);
}

std::optional<CourseLine> line_through(std::span<const MeasuredPoint> points, double correlated_points) {
  if (points.size() < 2) return std::nullopt;
  const double n = static_cast<double>(points.size());
  CourseLine line;
  for (const MeasuredPoint& p : points) {
    line.time += p.time / n;
    line.bpm += p.bpm / n;
  }
  double tt = 0, tr = 0;
  for (const MeasuredPoint& p : points) {
    tt += (p.time - line.time) * (p.time - line.time);
    tr += (p.time - line.time) * (p.bpm - line.bpm);
  }
  if (!(tt > 0.0)) return std::nullopt;
  line.slope = tr / tt;
  double residual = 0;
  for (const MeasuredPoint& p : points) residual += (p.bpm - line.at(p.time)) * (p.bpm - line.at(p.time));
  const double freedom = n / correlated_points - 2.0;
  if (freedom > 0.0)
    line.slope_half_width =
        student_quantile(freedom) * std::sqrt(correlated_points * residual / (n - 2.0 * correlated_points) / tt);
  return line;
}

double ExponentialCourse::at(double t) const {
  return level + size * (1.0 - elementary::exp(-(t - start) / tau)) + slope * (t - start);
}

std::optional<ExponentialCourse> exponential_through(std::span<const MeasuredPoint> points, double start,
                                                     bool with_slope, double correlated_points) {
  const double parameters = with_slope ? 4.0 : 3.0;
  const double n = static_cast<double>(points.size());
  const double freedom = n / correlated_points - parameters;
  constexpr double least_freedom = 2.0;
  if (freedom < least_freedom) return std::nullopt;
  const Eigen::VectorXd y = rates(points);
  ExponentialCourse course;
  course.start = start;
  course.tau = best_tau(points, y, start, with_slope);
  const Trial best = trial(points, y, start, course.tau, with_slope);
  course.level = best.coefficients(0);
  course.size = best.coefficients(1);
  if (with_slope) course.slope = best.coefficients(2);
  const double total = (y.array() - y.mean()).square().sum();
  course.explained = total > 0.0 ? 1.0 - best.residual / total : 0.0;

  // The interval from the derivatives by all parameters, tau the last.
  const Eigen::MatrixXd x = design(points, start, course.tau, with_slope);
  Eigen::MatrixXd jacobian(x.rows(), x.cols() + 1);
  jacobian.leftCols(x.cols()) = x;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const double t = points[i].time - start;
    jacobian(static_cast<Eigen::Index>(i), x.cols()) =
        -course.size * elementary::exp(-t / course.tau) * t / (course.tau * course.tau);
  }
  const Eigen::MatrixXd information = jacobian.transpose() * jacobian;
  const Eigen::MatrixXd covariance = symmetric_inverse(information);
  const double variance = best.residual / (n - parameters * correlated_points);
  const double of_tau = covariance(x.cols(), x.cols());
  course.tau_half_width =
      of_tau > 0.0 && std::isfinite(of_tau)
          ? elementary::hypot(student_quantile(freedom) * std::sqrt(correlated_points * variance * of_tau),
                              unexplained_share * course.tau)
          : std::numeric_limits<double>::infinity();
  return course;
}

}  // namespace pulsewright
