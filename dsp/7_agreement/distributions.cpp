#include "distributions.hpp"

#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/fisher_f.hpp>
#include <boost/math/distributions/non_central_t.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>

namespace pulsewright {
namespace {

namespace bm = boost::math;

}  // namespace

double normal_quantile(double p) { return bm::quantile(bm::normal_distribution<double>(), p); }

double normal_cdf(double z) { return bm::cdf(bm::normal_distribution<double>(), z); }

double student_quantile(double p, double degrees) {
  return bm::quantile(bm::students_t_distribution<double>(degrees), p);
}

double student_two_sided(double t, double degrees) {
  if (!std::isfinite(t)) return 0;
  return 2 * student_above(std::abs(t), degrees);
}

double student_above(double t, double degrees) {
  if (!std::isfinite(t)) return t > 0 ? 0 : 1;
  return bm::cdf(bm::complement(bm::students_t_distribution<double>(degrees), t));
}

double noncentral_student_quantile(double p, double degrees, double noncentrality) {
  // Beyond this the distribution is normal to more digits than anybody reads (Johnson & Welch 1940, Biometrika 31:362), and the series is slow.
  constexpr double many_degrees = 2000;
  if (degrees > many_degrees) {
    const double z = normal_quantile(p);
    const double shrink = 1 - 1 / (4 * degrees);
    const double inside = shrink * shrink - z * z / (2 * degrees);
    const double root = std::sqrt(shrink * shrink + (noncentrality * noncentrality - z * z) / (2 * degrees));
    return (noncentrality * shrink + z * root) / inside;
  }
  return bm::quantile(bm::non_central_t_distribution<double>(degrees, noncentrality), p);
}

double chi_squared_quantile(double p, double degrees) {
  return bm::quantile(bm::chi_squared_distribution<double>(degrees), p);
}

double fisher_quantile(double p, double numerator_degrees, double denominator_degrees) {
  return bm::quantile(bm::fisher_f_distribution<double>(numerator_degrees, denominator_degrees), p);
}

}  // namespace pulsewright
