// exp and pow: a table of powers of two, and a short series for what is left.
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>

#include "elementary.hpp"
#include "parts.hpp"

namespace pulsewright::elementary {

using namespace stage;

namespace {

constexpr std::size_t table_size = 128;

/// 2^(j / 128); `high` has 26 bits, so that its product with as many is exact.
constexpr std::array<Two, table_size> table_of_powers() {
  std::array<Two, table_size> table{};
  for (std::size_t j = 0; j < table_size; ++j) {
    const Two x = ln_2 * (static_cast<double>(j) / table_size);
    Two sum{1.0, 0.0};
    for (int n = 27; n >= 1; --n) sum = sum * x * reciprocal(n) + 1.0;  // x^28 / 28! < 2^-112
    const double high = upper_half(sum.high);
    table[j] = {high, (sum.high - high) + sum.low};
  }
  return table;
}
constexpr std::array<Two, table_size> table = table_of_powers();

// ln 2 / 128 in three parts; the first two have 32 bits, so that their products with k < 2^18 are
// exact.
constexpr double upper_bits(double x) { return bits_of<double>(bits_of<std::uint64_t>(x) & 0xffffffffffe00000ULL); }
constexpr double step_high = upper_bits(ln_2.high / table_size);
constexpr double step_rest = (ln_2.high / table_size - step_high) + ln_2.low / table_size;
constexpr double step_middle = upper_bits(step_rest);
constexpr double step_low = ((ln_2.high / table_size - step_high) - step_middle) + ln_2.low / table_size;
constexpr double steps_in_one = table_size / ln_2.high;

/// The nearest whole number, |x| < 2^51: adding 1.5 * 2^52 leaves no bits for a fraction.
constexpr double nearest(double x) {
  constexpr double no_fraction = 0x1.8p52;
  return (x + no_fraction) - no_fraction;
}

struct Step {
  std::size_t entry;
  int exponent;
};
Step step_of(double k) {
  const auto whole = static_cast<std::int32_t>(k);
  return {static_cast<std::size_t>(whole) % table_size, whole >> 7};
}

/// e^r - 1 - r, |r| < 2^-8: r^8 / 8! is left out.
constexpr double after_first(double r) {
  const double q = r * r;
  return q * ((0.5 + r / 6) + q * ((1.0 / 24 + r / 120) + q * (1.0 / 720 + r / 5040)));
}

/// 2^e of a normal number.
double power_of_two(int e) { return bits_of<double>(static_cast<std::uint64_t>(e + 1023) << 52); }

// e^x is no double, or 0, beyond these.
constexpr double most = 709.79, least = -745.14;

double out_of_range(double x) {
  if (x > most) return std::numeric_limits<double>::infinity();
  return x < least ? 0.0 : x;  // NaN
}

}  // namespace

/// e^x = 2^(k / 128) e^r, |r| <= ln 2 / 256.
Scaled stage::exp_of(Two x) {
  const double k = nearest(x.high * steps_in_one);
  const auto [entry, exponent] = step_of(k);
  const double left = x.high - k * step_high;  // exact, both are near each other
  const Two r = exact_sum(left, -k * step_middle);
  const double r_low = r.low + (x.low - k * step_low);
  const auto [high, low] = table[entry];
  const double upper = upper_half(r.high);
  const double small = (r.high - upper) + (r_low + after_first(r.high) + r.high * r_low);
  const Two first = sum_of_ordered(high, high * upper);
  return {sum_of_ordered(first.high, first.low + (high * small + low * (1.0 + (upper + small)))), exponent};
}

double stage::rounded(const Scaled& scaled) {
  const int e = scaled.exponent;
  if (e > -1021 && e < 1023) [[likely]]
    return scaled.value.high * power_of_two(e);
  return std::ldexp(scaled.value.high, e);
}

double exp(double x) {
  if (!(x <= most && x >= least)) return out_of_range(x);
  return rounded(exp_of({x, 0.0}));
}

float exp(float x) {
  const auto wide = static_cast<double>(x);
  if (!(wide <= 128.0 && wide >= -128.0))
    return static_cast<float>(out_of_range(wide > 128.0 ? 800.0 : wide < -128.0 ? -800.0 : wide));
  const double k = nearest(wide * steps_in_one);
  const auto [entry, exponent] = step_of(k);
  const double r = (wide - k * step_high) - k * step_middle;
  const double value = (table[entry].high + table[entry].low);
  return static_cast<float>((value + value * (r + after_first(r))) * power_of_two(exponent));
}

double pow(double x, double y) {
  if (y == 0.0 || x == 1.0) return 1.0;
  if (!(x > 0.0 && x < std::numeric_limits<double>::infinity()) || !(y > -0x1p200 && y < 0x1p200)) {
    if (!(x >= 0.0) || y != y) return std::numeric_limits<double>::quiet_NaN();
    const bool grows = (x > 1.0) == (y > 0.0);
    return grows ? std::numeric_limits<double>::infinity() : 0.0;
  }
  const Two exponent = log_of(x) * y;
  if (!(exponent.high <= most && exponent.high >= least)) return out_of_range(exponent.high);
  return rounded(exp_of(exponent));
}

float pow(float x, float y) { return static_cast<float>(pow(static_cast<double>(x), static_cast<double>(y))); }

}  // namespace pulsewright::elementary
