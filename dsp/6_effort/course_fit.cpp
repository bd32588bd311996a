#include "course_fit.hpp"

#include <algorithm>
#include <cmath>

#include "elementary/elementary.hpp"

namespace pulsewright {

namespace {

/// A pivot of Cholesky's method that has lost all but this share of itself is a column that the others explain already, and gets no coefficient.
constexpr double lost_pivot = 1e-9;

/// Fewer points than this do not tell an exponential.
constexpr int fewest_points = 5;

/// Solves the symmetric 3 x 3 normal equations.
std::array<double, 3> solve(const std::array<std::array<double, 3>, 3>& a, const std::array<double, 3>& b) {
  std::array<std::array<double, 3>, 3> l{};
  std::array<bool, 3> used{};
  std::array<double, 3> y{}, x{};
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      double sum = a[i][j];
      for (std::size_t k = 0; k < j; ++k) sum -= l[i][k] * l[j][k];
      l[i][j] = used[j] ? sum / l[j][j] : 0.0;
    }
    double pivot = a[i][i];
    for (std::size_t k = 0; k < i; ++k) pivot -= l[i][k] * l[i][k];
    used[i] = pivot > lost_pivot * a[i][i];
    l[i][i] = used[i] ? std::sqrt(pivot) : 1.0;
    double sum = b[i];
    for (std::size_t k = 0; k < i; ++k) sum -= l[i][k] * y[k];
    y[i] = used[i] ? sum / l[i][i] : 0.0;
  }
  for (std::size_t i = 3; i-- > 0;) {
    double sum = y[i];
    for (std::size_t k = i + 1; k < 3; ++k) sum -= l[k][i] * x[k];
    x[i] = used[i] ? sum / l[i][i] : 0.0;
  }
  return x;
}

}  // namespace

void CourseSums::add(double time, double bpm) {
  const double t = time - start_, r = bpm - offset_;
  ++count_;
  t_ += t;
  tt_ += t * t;
  r_ += r;
  rr_ += r * r;
  tr_ += t * r;
  for (std::size_t k = 0; k < course_taus_s.size(); ++k) {
    const double e = elementary::exp(-t / course_taus_s[k]);
    exponentials_[k].e += e;
    exponentials_[k].ee += e * e;
    exponentials_[k].et += e * t;
    exponentials_[k].er += e * r;
  }
}

CourseFit CourseSums::constant() const {
  return {r_ / count_ + offset_, 0.0, 0.0, course_taus_s.front(), std::max(0.0, rr_ - r_ * r_ / count_)};
}

CourseFit CourseSums::fit(std::size_t which, bool with_slope) const {
  const Exponential& e = exponentials_[which];
  const double n = count_;
  // A column of zeros gets no coefficient.
  const double t = with_slope ? t_ : 0.0, tt = with_slope ? tt_ : 0.0, et = with_slope ? e.et : 0.0;
  const std::array<double, 3> b{r_, e.er, with_slope ? tr_ : 0.0};
  const std::array<double, 3> x = solve({{{n, e.e, t}, {e.e, e.ee, et}, {t, et, tt}}}, b);
  const double explained = x[0] * b[0] + x[1] * b[1] + x[2] * b[2];
  return {x[0] + offset_, x[2], x[1], course_taus_s[which], std::max(0.0, rr_ - explained)};
}

CourseFit CourseSums::best() const {
  if (count_ == 0) return {};
  if (count_ < fewest_points) return constant();
  CourseFit best = fit(0, true);
  for (std::size_t k = 1; k < course_taus_s.size(); ++k) {
    const CourseFit other = fit(k, true);
    if (other.residual < best.residual) best = other;
  }
  return best;
}

CourseFit CourseSums::best_level(double longest_tau_s) const {
  if (count_ == 0) return {};
  if (count_ < fewest_points) return constant();
  CourseFit best = fit(0, false);
  for (std::size_t k = 1; k < course_taus_s.size() && course_taus_s[k] <= longest_tau_s; ++k) {
    const CourseFit other = fit(k, false);
    if (other.residual < best.residual) best = other;
  }
  return best;
}

}  // namespace pulsewright
