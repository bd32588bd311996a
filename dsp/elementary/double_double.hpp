/// A number as the unevaluated sum of two doubles, some 106 bits, from additions, multiplications
/// and divisions alone (Dekker 1971; Knuth, The Art of Computer Programming 2, 4.2.2).
///
/// No fused multiplication, no excess precision: IEEE 754 fixes every bit on every processor.
#pragma once

namespace pulsewright::elementary::stage {

/// std::bit_cast, which not every standard library has.
template <class To, class From>
constexpr To bits_of(From from) {
  return __builtin_bit_cast(To, from);
}

/// high + low, where |low| is at most half a unit in the last place of high.
struct Two {
  double high = 0.0, low = 0.0;
};

/// a + b exactly, |a| >= |b| or a = 0.
constexpr Two sum_of_ordered(double a, double b) {
  const double s = a + b;
  return {s, b - (s - a)};
}
/// a + b exactly.
constexpr Two exact_sum(double a, double b) {
  const double s = a + b, of_b = s - a;
  return {s, (a - (s - of_b)) + (b - of_b)};
}
/// The upper 26 bits of `a`, so that a - upper_half(a) has 26 too; |a| below 2^996.
constexpr double upper_half(double a) {
  constexpr double splitter = 134217729.0;  // 2^27 + 1
  const double scaled = splitter * a;
  return scaled - (scaled - a);
}
/// a * b exactly, where nothing over- or underflows.
constexpr Two exact_product(double a, double b) {
  const double p = a * b, ah = upper_half(a), al = a - ah, bh = upper_half(b), bl = b - bh;
  return {p, ((ah * bh - p) + ah * bl + al * bh) + al * bl};
}

constexpr Two operator-(Two a) { return {-a.high, -a.low}; }
constexpr Two operator+(Two a, Two b) {
  const Two s = exact_sum(a.high, b.high), t = exact_sum(a.low, b.low);
  const Two u = sum_of_ordered(s.high, s.low + t.high);
  return sum_of_ordered(u.high, u.low + t.low);
}
constexpr Two operator+(Two a, double b) {
  const Two s = exact_sum(a.high, b);
  return sum_of_ordered(s.high, s.low + a.low);
}
constexpr Two operator-(Two a, Two b) { return a + -b; }
constexpr Two operator*(Two a, Two b) {
  const Two p = exact_product(a.high, b.high);
  return sum_of_ordered(p.high, p.low + (a.high * b.low + a.low * b.high));
}
constexpr Two operator*(Two a, double b) {
  const Two p = exact_product(a.high, b);
  return sum_of_ordered(p.high, p.low + a.low * b);
}
constexpr Two operator/(Two a, Two b) {
  const double first = a.high / b.high;
  const Two left = a - b * first;
  const double second = left.high / b.high;
  const Two rest = left - b * second;
  return sum_of_ordered(first, second) + rest.high / b.high;
}

/// 1 / n as two doubles.
constexpr Two reciprocal(double n) { return Two{1.0, 0.0} / Two{n, 0.0}; }

// To 2^-107 or better; the digits are in every table, e.g. Abramowitz & Stegun 1964, table 1.1.
inline constexpr Two ln_2{0x1.62e42fefa39efp-1, 0x1.abc9e3b39803fp-56};
inline constexpr Two half_pi{0x1.921fb54442d18p+0, 0x1.1a62633145c07p-54};
inline constexpr Two pi{0x1.921fb54442d18p+1, 0x1.1a62633145c07p-53};

}  // namespace pulsewright::elementary::stage
