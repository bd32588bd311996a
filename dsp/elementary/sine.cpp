// sin, cos, tan: whole quarter turns off, a table of sines, and a short series for what is left.
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
constexpr std::size_t table_size = 52;  // to pi / 4 and a little more

struct Entry {
  Two sine, cosine;
};

/// Sines and cosines of n / 64 by their Taylor series: x^30 / 30! < 2^-116.
constexpr std::array<Entry, table_size> table_of_sines() {
  std::array<Entry, table_size> table{};
  for (std::size_t i = 0; i < table_size; ++i) {
    const double x = static_cast<double>(i) / steps_in_one;
    const Two q = exact_product(x, x);
    Two sine{1.0, 0.0}, cosine{1.0, 0.0};
    for (int n = 28; n >= 2; n -= 2) {
      sine = -(sine * q) * reciprocal(n * (n + 1)) + 1.0;
      cosine = -(cosine * q) * reciprocal(n * (n - 1)) + 1.0;
    }
    table[i] = {sine * x, cosine};
  }
  return table;
}
constexpr std::array<Entry, table_size> table = table_of_sines();

constexpr double half_pi_third = -0x1.f1976b7ed8fbcp-110;  // pi / 2 less both parts of half_pi

// The same in four parts, of which the first three have 32 bits: products with fewer than 2^20
// quarter turns are exact.
constexpr std::array half_pi_parts{0x1.921fb544p+0, 0x1.0b4611a6p-34, 0x1.3198a2ep-69, 0x1.b839a252049c1p-104};
constexpr double most_exact = 0x1p20;

struct Quarter {
  int count;  ///< of quarter turns, modulo 4
  Two rest;   ///< at most pi / 4 in size, and a little more
};

double nearest(double x) { return std::floor(x + 0.5); }

int quarters(double k) { return static_cast<int>(k - 4.0 * std::floor(0.25 * k)); }

Quarter quarter_of(double x) {
  const double k = nearest(x * (2.0 / 0x1.921fb54442d18p+1));
  const int count = quarters(k);
  if (k == 0.0) return {count, {x, 0.0}};
  if (std::abs(k) < most_exact) {
    const double left = x - k * half_pi_parts[0];  // exact, as are the products of the first three
    const Two first = exact_sum(left, -k * half_pi_parts[1]);
    return {count, sum_of_ordered(first.high, first.low + (-k * half_pi_parts[2] - k * half_pi_parts[3]))};
  }
  const Two first = exact_product(k, half_pi.high), second = exact_product(k, half_pi.low);
  Two rest = exact_sum(x - first.high, -first.low);  // the difference is exact: both are near each other
  rest = rest - second;
  return {count, rest + -k * half_pi_third};
}

/// The angle c + d with the sine and cosine of c from the table, |d| <= 2^-7.
struct Near {
  Two sine, cosine;  ///< of c
  Two d;
  double sine_rest;    ///< sin d - d: d^11 / 11! is left out
  double cosine_rest;  ///< cos d - 1: d^10 / 10! is left out
  bool negative;       ///< the angle is -(c + d)
};
/// x.high at most pi / 4 and a little more in size.
Near near(Two x) {
  const bool negative = x.high < 0.0;
  if (negative) x = -x;
  const double step = nearest(x.high * steps_in_one);
  const auto& [sine, cosine] = table[static_cast<std::size_t>(step)];
  const Two d = sum_of_ordered(x.high - step / steps_in_one, x.low);
  const double q = d.high * d.high;
  return {sine,
          cosine,
          d,
          d.high * q * (-1.0 / 6 + q * (1.0 / 120 + q * (-1.0 / 5040 + q / 362880))) + d.low,
          q * (-0.5 + q * (1.0 / 24 + q * (-1.0 / 720 + q / 40320))) - d.high * d.low,
          negative};
}
/// sin c + cos c sin d + sin c (cos d - 1)
Two short_sine(const Near& a) {
  const Two product = exact_product(a.cosine.high, a.d.high);
  const Two sum = exact_sum(a.sine.high, product.high);
  const double small =
      product.low + a.cosine.low * a.d.high + a.cosine.high * a.sine_rest + a.sine.high * a.cosine_rest + a.sine.low;
  const Two result = sum_of_ordered(sum.high, sum.low + small);
  return a.negative ? -result : result;
}
/// cos c - sin c sin d + cos c (cos d - 1)
Two short_cosine(const Near& a) {
  const Two product = exact_product(a.sine.high, a.d.high);
  const Two sum = exact_sum(a.cosine.high, -product.high);
  const double small =
      a.cosine.high * a.cosine_rest + a.cosine.low - (product.low + a.sine.low * a.d.high + a.sine.high * a.sine_rest);
  return sum_of_ordered(sum.high, sum.low + small);
}

/// Sine of an angle and so many quarter turns.
Two sine_in_quarter(int count, const Near& rest) {
  const Two size = count % 2 == 0 ? short_sine(rest) : short_cosine(rest);
  return count % 4 < 2 ? size : -size;
}

constexpr double farthest = 0x1p50;
bool reachable(double x) { return x >= -farthest && x <= farthest; }
constexpr double nan = std::numeric_limits<double>::quiet_NaN();

constexpr double tiny = 0x1p-27;  // sin x and tan x are x below

}  // namespace

double sin(double x) {
  if (std::abs(x) < tiny) return x;
  if (!reachable(x)) return nan;
  const auto [count, rest] = quarter_of(x);
  return sine_in_quarter(count, near(rest)).high;
}

double cos(double x) {
  if (!reachable(x)) return nan;
  const auto [count, rest] = quarter_of(x);
  return sine_in_quarter(count + 1, near(rest)).high;
}

double tan(double x) {
  if (std::abs(x) < tiny) return x;
  if (!reachable(x)) return nan;
  const auto [count, rest] = quarter_of(x);
  const Near a = near(rest);
  return (sine_in_quarter(count, a) / sine_in_quarter(count + 1, a)).high;
}

Complex turn(double x) {
  if (!reachable(x)) return {nan, nan};
  const auto [count, rest] = quarter_of(x);
  const Near a = near(rest);
  return {sine_in_quarter(count + 1, a).high, std::abs(x) < tiny ? x : sine_in_quarter(count, a).high};
}

double sine_of_turns(double x) {
  if (!reachable(x)) return x - x == 0.0 ? 0.0 : nan;
  const double k = nearest(4.0 * x);
  const Two rest = pi * 2.0 * (x - 0.25 * k);  // the difference is exact: both are near each other
  return sine_in_quarter(quarters(k), near(rest)).high;
}

}  // namespace pulsewright::elementary
