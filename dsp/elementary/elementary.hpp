/// Logarithms, exponentials, angles and roots whose results depend neither on the processor nor on
/// the C library: everything in the library that is more than + - * / and square roots goes through
/// here.
///
/// IEEE 754 fixes every bit of additions, multiplications, divisions and square roots, while
/// functions of the C library differ in the last bit between libraries and, as these choose fused
/// instructions where they run, between processors. These functions use nothing else than what is
/// fixed.
///
/// Unless said otherwise a double result is worked out to about 2^-67 before it is rounded once:
/// within 0.5001 units in the last place, and the nearest double in all but about one case in ten
/// thousand. Float results are within 0.5001 units of a float. NaN gives NaN; infinities and poles
/// are those of IEEE 754. `errno` and the floating-point flags mean nothing here.
#pragma once

#include <complex>

namespace pulsewright::elementary {

using Complex = std::complex<double>;

[[nodiscard]] double log(double x);
[[nodiscard]] float log(float x);
[[nodiscard]] double log2(double x);
[[nodiscard]] double log10(double x);

/// Below 2^-1022 some results are rounded twice.
[[nodiscard]] double exp(double x);
[[nodiscard]] float exp(float x);

/// x^y for x >= 0, within 0.51 units; NaN for negative x.
[[nodiscard]] double pow(double x, double y);
[[nodiscard]] float pow(float x, float y);

/// Angles in radians up to 2^50 in size; NaN beyond, where doubles are further apart than a sine is
/// long.
[[nodiscard]] double sin(double x);
[[nodiscard]] double cos(double x);
[[nodiscard]] double tan(double x);
/// cos x + i sin x, each as above.
[[nodiscard]] Complex turn(double x);
/// sin(2 pi x) of a phase counted in turns; the whole turns are taken off exactly.
[[nodiscard]] double sine_of_turns(double x);

[[nodiscard]] double atan(double x);
[[nodiscard]] double atan2(double y, double x);
[[nodiscard]] double acos(double x);

[[nodiscard]] double sinh(double x);
[[nodiscard]] double tanh(double x);
[[nodiscard]] double atanh(double x);

/// The complementary error function, 1 - erf x, within 4 units in the last place.
[[nodiscard]] double erfc(double x);

/// sqrt(x^2 + y^2) without overflow on the way.
[[nodiscard]] double hypot(double x, double y);

/// |z|
[[nodiscard]] double abs(Complex z);
/// p / q after Smith 1962 (Communications of the ACM 5:435): each part within some units in the
/// last place of the larger.
[[nodiscard]] Complex quotient(Complex p, Complex q);
/// The root with a positive real part, or with a real part of 0 and the sign of z's imaginary part.
[[nodiscard]] Complex sqrt(Complex z);
/// ln |z| + i arg z; |z| between 1e-140 and 1e140.
[[nodiscard]] Complex log(Complex z);

}  // namespace pulsewright::elementary
