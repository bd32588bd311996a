/// exp, log and sin from additions, multiplications, divisions and square roots alone.
///
/// IEEE 754 fixes every bit of those, while the C library's functions differ in the last bit between its versions and, by
/// run-time choice of fused instructions, between processors. A simulation must be the same bytes everywhere, so it uses these. Accurate to
/// some units in the last place, not correctly rounded.
#pragma once

namespace pulsewright::simulation {

inline constexpr double pi = 3.14159265358979323846;

/// e^x; 0 below -700, Inf is never returned: `x` is clamped at 700.
[[nodiscard]] double exponential(double x);
/// Natural logarithm of `x`, which must be positive and normal.
[[nodiscard]] double logarithm(double x);
/// sin(2 pi x) of a phase counted in turns; the whole turns are taken off exactly.
[[nodiscard]] double sine_of_turns(double turns);
/// x^p for positive `x`.
[[nodiscard]] double power(double x, double p);
/// A bell of height 1 and standard deviation 1: e^(-x^2 / 2).
[[nodiscard]] double bell(double x);

}  // namespace pulsewright::simulation
