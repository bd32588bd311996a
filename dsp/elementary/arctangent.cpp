// atan, atan2, acos: a table of arctangents, and a short series for what is left.
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>

#include "elementary.hpp"
#include "parts.hpp"

namespace pulsewright::elementary {

using namespace stage;

namespace {

constexpr double steps_in_one = 64.0;
constexpr std::size_t table_size = 65;

/// arctan(n / 64), each from the one before: arctan b - arctan a = arctan((b - a) / (1 + a b)).
constexpr std::array<Two, table_size> table_of_arctangents() {
  std::array<Two, table_size> table{};
  for (std::size_t i = 1; i < table_size; ++i) {
    const double a = static_cast<double>(i - 1) / steps_in_one, b = static_cast<double>(i) / steps_in_one;
    const Two t = Two{1.0 / steps_in_one, 0.0} / Two{1.0 + a * b, 0.0}, q = t * t;
    Two sum{};
    for (int n = 19; n >= 1; n -= 2) sum = reciprocal(n) - sum * q;  // t^21 / 21 < 2^-130
    table[i] = table[i - 1] + sum * t;
  }
  return table;
}
constexpr std::array<Two, table_size> table = table_of_arctangents();

/// Of a quotient from 0 to 1 and a little more.
Two short_arctangent(Two q) {
  const double step = std::floor(q.high * steps_in_one + 0.5), c = step / steps_in_one;
  const Two t = (q + -c) / (q * c + 1.0);  // |t| <= 2^-7
  const double square = t.high * t.high;
  const double rest =
      t.high * square * (-1.0 / 3 + square * (1.0 / 5 + square * (-1.0 / 7 + square * (1.0 / 9 - square / 11))));
  return table[static_cast<std::size_t>(step)] + (t + rest);
}

}  // namespace

Two stage::atan2_of(Two y, Two x) {
  const bool below = y.high < 0.0, left = x.high < 0.0;
  const Two up = below ? -y : y, along = left ? -x : x;
  const bool steep = up.high > along.high;
  Two angle = short_arctangent(steep ? along / up : up / along);
  if (steep) angle = half_pi - angle;
  if (left) angle = pi - angle;
  return below ? -angle : angle;
}

double atan2(double y, double x) {
  if (y != y || x != x) return std::numeric_limits<double>::quiet_NaN();
  constexpr double infinity = std::numeric_limits<double>::infinity();
  if (std::abs(y) == infinity || std::abs(x) == infinity) {  // the corner of a square as large as one likes
    const double up = std::abs(y) == infinity ? 1.0 : 0.0, along = std::abs(x) == infinity ? 1.0 : 0.0;
    return atan2(std::copysign(up, y), std::copysign(along, x));
  }
  if (y == 0.0) return std::copysign(std::signbit(x) ? pi.high : 0.0, y);
  // Into a range where quotients and their remainders are exact.
  const int scale = -std::ilogb(std::max(std::abs(y), std::abs(x)));
  const double up = std::ldexp(y, scale), along = std::ldexp(x, scale);
  if (along > 0.0 && std::abs(up) < 0x1p-400) return std::ldexp(up / along, 0);  // arctan q = q
  if (along < 0.0 && std::abs(up) < 0x1p-400) return std::copysign(pi.high, y);
  if (std::abs(along) < 0x1p-400) return std::copysign(half_pi.high, y);
  return atan2_of({up, 0.0}, {along, 0.0}).high;
}

double atan(double x) { return atan2(x, 1.0); }

double acos(double x) {
  if (!(x >= -1.0 && x <= 1.0)) return std::numeric_limits<double>::quiet_NaN();
  if (x == 1.0) return 0.0;
  if (x == -1.0) return pi.high;
  const Two height = sqrt_of(exact_sum(1.0, -x) * exact_sum(1.0, x));
  return atan2_of(height, {x, 0.0}).high;
}

}  // namespace pulsewright::elementary
