// sinh, tanh, atanh: series where the argument is small, exponentials and logarithms elsewhere.
#include <cmath>
#include <limits>

#include "elementary.hpp"
#include "parts.hpp"

namespace pulsewright::elementary {

using namespace stage;

namespace {

/// sinh x and cosh x, |x| <= 1: x^26 / 26! < 2^-88.
Two series_of_sinh(double x) {
  const Two q = exact_product(x, x);
  Two sum{1.0, 0.0};
  for (int n = 24; n >= 2; n -= 2) sum = sum * q * reciprocal(n * (n + 1)) + 1.0;
  return sum * x;
}
Two series_of_cosh(double x) {
  const Two q = exact_product(x, x);
  Two sum{1.0, 0.0};
  for (int n = 24; n >= 2; n -= 2) sum = sum * q * reciprocal(n * (n - 1)) + 1.0;
  return sum;
}

constexpr double tiny = 0x1p-30;  // sinh x, tanh x and artanh x are x below

}  // namespace

double sinh(double x) {
  const double size = std::abs(x);
  if (!(size > tiny)) return x;
  if (size <= 1.0) return series_of_sinh(x).high;
  if (size > 720.0) return size < 0x1p1023 ? std::copysign(std::numeric_limits<double>::infinity(), x) : x;
  const Scaled up = exp_of({size, 0.0}), down = exp_of({-size, 0.0});
  const double shift = std::ldexp(1.0, std::max(down.exponent - up.exponent, -200));
  const Two value = up.value - Two{down.value.high * shift, down.value.low * shift};
  return std::copysign(rounded({value, up.exponent - 1}), x);
}

double tanh(double x) {
  const double size = std::abs(x);
  if (!(size > tiny)) return x;
  if (size <= 1.0) return (series_of_sinh(x) / series_of_cosh(x)).high;
  if (size > 20.0) return std::copysign(1.0, x);
  const Scaled e = exp_of({2.0 * size, 0.0});
  const double one = std::ldexp(1.0, -e.exponent);
  return std::copysign(((e.value + -one) / (e.value + one)).high, x);
}

double atanh(double x) {
  const double size = std::abs(x);
  if (!(size > tiny)) return x;
  if (!(size < 1.0))
    return size == 1.0 ? std::copysign(std::numeric_limits<double>::infinity(), x)
                       : std::numeric_limits<double>::quiet_NaN();
  if (size <= 0.25) {  // x^39 / 39 < 2^-83 x
    const Two q = exact_product(x, x);
    Two sum{};
    for (int n = 41; n >= 1; n -= 2) sum = sum * q + reciprocal(n);
    return (sum * x).high;
  }
  return std::copysign((log_of(exact_sum(1.0, size) / exact_sum(1.0, -size)) * 0.5).high, x);
}

}  // namespace pulsewright::elementary
