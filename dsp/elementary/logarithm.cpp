// log: a table of logarithms near the argument, and a short series for what is left.
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

// x = 2^k z with z in [lowest_z, 2 lowest_z); intervals of z of equal width, each with a c near
// 1/z.
constexpr std::size_t table_size = 128;
constexpr std::uint64_t lowest_z = 0x3fe5f00000000000;  // 0.686: 1 is the middle of an interval, whose c is 1
constexpr int mantissa_bits = 52, index_bits = 7;

// Multiples of 2^-42, so that k * ln2_high + high is exact.
constexpr double quantum = 0x1p-42;
constexpr double in_quanta(double x) { return static_cast<double>(static_cast<std::int64_t>(x / quantum)) * quantum; }
constexpr double ln2_high = in_quanta(ln_2.high);
constexpr double ln2_low = (ln_2.high - ln2_high) + ln_2.low;

struct Entry {
  double c;          ///< near 1/z for the interval, a multiple of 2^-9: c * z takes few bits more than z
  double high, low;  ///< -ln c, `high` a multiple of the quantum
};

/// ln x = 2 artanh((x - 1) / (x + 1)), x in [0.7, 1.5]: |s| <= 0.2, so that s^46 / 47 < 2^-112.
constexpr Two series_of_log(double x) {
  const Two s = Two{x - 1.0, 0.0} / Two{x + 1.0, 0.0}, q = s * s;
  Two sum{};
  for (int n = 45; n >= 1; n -= 2) sum = sum * q + reciprocal(n);
  return sum * s * 2.0;
}

constexpr std::array<Entry, table_size> table_of_logs() {
  std::array<Entry, table_size> table{};
  for (std::size_t i = 0; i < table_size; ++i) {
    const std::uint64_t middle =
        lowest_z + (std::uint64_t{i} << (mantissa_bits - index_bits)) + (1ULL << (mantissa_bits - index_bits - 1));
    const double nearest = 512.0 / bits_of<double>(middle);
    const int rounded = (static_cast<int>(2.0 * nearest) + 1) / 2;
    const double c = rounded / 512.0;
    const Two value = -series_of_log(c);
    const double high = in_quanta(value.high);
    table[i] = {c, high, (value.high - high) + value.low};
  }
  return table;
}
constexpr std::array<Entry, table_size> table = table_of_logs();

struct Reduced {
  double k, z;
  const Entry& entry;
};
Reduced reduced(double x) {
  double k = 0.0;
  if (x < std::numeric_limits<double>::min()) {
    x *= 0x1p54;
    k = -54.0;
  }
  const auto bits = bits_of<std::uint64_t>(x);
  const std::uint64_t above = bits - lowest_z;
  k += static_cast<double>(static_cast<std::int64_t>(above) >> mantissa_bits);
  const std::uint64_t z = bits - (above & (0xfffULL << mantissa_bits));
  return {k, bits_of<double>(z), table[(above >> (mantissa_bits - index_bits)) % table_size]};
}

/// ln(1 + r) - r + r^2 / 2, |r| < 2^-7: r^11 / 11 is left out.
constexpr double after_second(double r) {
  const double q = r * r;
  return q * r * ((1.0 / 3 - r / 4) + q * ((1.0 / 5 - r / 6) + q * ((1.0 / 7 - r / 8) + q * (1.0 / 9 - r / 10))));
}

}  // namespace

/// ln x = k ln 2 - ln c + ln(1 + r), r = c z - 1.
Two stage::log_of(double x) {
  const auto [k, z, entry] = reduced(x);
  const double upper = bits_of<double>(bits_of<std::uint64_t>(z) & 0xffffffff00000000ULL);
  const Two r = exact_sum(entry.c * upper - 1.0, entry.c * (z - upper));
  const double start = k * ln2_high + entry.high;
  const double short_r = upper_half(r.high);
  const double half_square_rest = 0.5 * (r.high - short_r) * (r.high + short_r) + r.high * r.low;
  const Two first = exact_sum(start, r.high);
  const Two second = exact_sum(first.high, -0.5 * short_r * short_r);
  const double small = (k * ln2_low + entry.low) + (r.low - half_square_rest + after_second(r.high));
  return sum_of_ordered(second.high, (first.low + second.low) + small);
}

Two stage::log_of(Two x) {
  const double ratio = x.low / x.high;
  return log_of(x.high) + ratio * (1.0 - 0.5 * ratio);
}

namespace {
/// What is no ordinary case, for every base.
double special_log(double x) {
  if (x == 0.0) return -std::numeric_limits<double>::infinity();
  return x > 0.0 ? x : std::numeric_limits<double>::quiet_NaN();  // infinity, or NaN of either kind
}
bool ordinary(double x) { return x > 0.0 && x < std::numeric_limits<double>::infinity(); }
}  // namespace

double log(double x) { return ordinary(x) ? log_of(x).high : special_log(x); }

float log(float x) {
  if (!ordinary(static_cast<double>(x))) return static_cast<float>(special_log(static_cast<double>(x)));
  const auto [k, z, entry] = reduced(static_cast<double>(x));
  const double r = entry.c * z - 1.0;  // exact: a float has 24 bits, c ten
  const double series = r - 0.5 * r * r + after_second(r);
  return static_cast<float>((k * ln2_high + entry.high) + series);
}

double log2(double x) {
  constexpr Two per_ln2 = Two{1.0, 0.0} / ln_2;
  return ordinary(x) ? (log_of(x) * per_ln2).high : special_log(x);
}

double log10(double x) {
  constexpr Two ln_10 = ln_2 * 3.0 + series_of_log(1.25);  // 10 = 2^3 * 1.25
  constexpr Two per_ln10 = Two{1.0, 0.0} / ln_10;
  return ordinary(x) ? (log_of(x) * per_ln10).high : special_log(x);
}

}  // namespace pulsewright::elementary
