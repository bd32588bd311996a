// hypot and arithmetic of complex numbers.
#include <cmath>
#include <limits>
#include <utility>

#include "elementary.hpp"
#include "parts.hpp"

namespace pulsewright::elementary {

using namespace stage;

/// One step of Newton's method from the rounded root (Karp & Markstein 1997).
Two stage::sqrt_of(Two x) {
  const double root = std::sqrt(x.high);
  const Two left = x - exact_product(root, root);
  return sum_of_ordered(root, left.high / (2.0 * root));
}

Two stage::hypot_of(double x, double y) { return sqrt_of(exact_product(x, x) + exact_product(y, y)); }

double hypot(double x, double y) {
  constexpr double infinity = std::numeric_limits<double>::infinity();
  x = std::abs(x), y = std::abs(y);
  if (x == infinity || y == infinity) return infinity;
  if (x < y) std::swap(x, y);
  if (!(y > x * 0x1p-60)) return x + y;  // also NaN
  if (x < 0x1p400 && y > 0x1p-400) return hypot_of(x, y).high;
  const int scale = -std::ilogb(x);
  return std::ldexp(hypot_of(std::ldexp(x, scale), std::ldexp(y, scale)).high, -scale);
}

double abs(Complex z) { return hypot(z.real(), z.imag()); }

Complex quotient(Complex p, Complex q) {
  const double a = p.real(), b = p.imag(), c = q.real(), d = q.imag();
  if (std::abs(c) < std::abs(d)) {
    const double ratio = c / d, denominator = c * ratio + d;
    return {(a * ratio + b) / denominator, (b * ratio - a) / denominator};
  }
  const double ratio = d / c, denominator = c + d * ratio;
  return {(a + b * ratio) / denominator, (b - a * ratio) / denominator};
}

Complex sqrt(Complex z) {
  const double x = z.real(), y = z.imag();
  if (y == 0.0)
    return x < 0.0 ? Complex{0.0, std::copysign(std::sqrt(-x), y)}
                   : Complex{std::abs(std::sqrt(x)), std::copysign(0.0, y)};
  const double size = hypot(x, y);
  if (x > 0.0) {
    const double real = std::sqrt(0.5 * (size + x));
    return {real, 0.5 * (y / real)};
  }
  const double imaginary = std::sqrt(0.5 * (size - x));
  return {std::abs(0.5 * (y / imaginary)), std::copysign(imaginary, y)};
}

Complex log(Complex z) {
  const double x = z.real(), y = z.imag();
  // ln |z| = ln(x^2 + y^2) / 2, the sum in twice the digits: |z| may lie near 1.
  const Two square = exact_product(x, x) + exact_product(y, y);
  return {(log_of(square) * 0.5).high, atan2(y, x)};
}

}  // namespace pulsewright::elementary
