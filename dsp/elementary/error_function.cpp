// erfc from one polynomial over the whole half line.
#include <array>
#include <cmath>

#include "elementary.hpp"
#include "parts.hpp"

namespace pulsewright::elementary {

using namespace stage;

namespace {

/// (1 + 2 x) e^(x^2) erfc x as a polynomial in t = (x - 2) / (x + 2), from -1 at x = 0 to 1 at
/// infinity (the substitution is that of Shepherd & Laframboise 1981, Mathematics of Computation
/// 36:249). Made by tests/golden/make_elementary.py from the Chebyshev series; what is left out is
/// below 1e-17.
constexpr std::array coefficients{
    0x1.46e80e2277953p+0,   -0x1.7bf5ec170062ap-4,  -0x1.5407bebf3243ep-3,  0x1.4ffa1e14e258ep-3,
    -0x1.bc2b9561992b0p-5,  -0x1.074234042daa1p-7,  0x1.1dd2ec90ea61cp-7,   0x1.4d461cfcfc026p-10,
    -0x1.7de5211ee243fp-10, -0x1.dc692b02d7318p-12, 0x1.b0c892725364bp-13,  0x1.3cc04e7987cbap-13,
    -0x1.9556d7b9b86a4p-20, -0x1.3186fe480e75bp-15, -0x1.c4b9e84ec0000p-17, 0x1.f179b5a07cd09p-19,
    0x1.5e6c84d6355e5p-18,  0x1.95baacc7a9806p-20,  -0x1.71e02db3ac62ep-21, -0x1.c4f9d1ff2c0cdp-21,
    -0x1.28995dd0942c0p-22, 0x1.35ab06c5a507ep-23,  0x1.816748201df50p-23,  0x1.c0ad3525a7e76p-26,
    -0x1.82a759f0312bbp-25, -0x1.26f00ed83807bp-26, 0x1.44f183de8b275p-28,  0x1.624b8d9fef393p-29,
};

double scaled_erfc(double x) {
  const double t = (x - 2.0) / (x + 2.0);
  double sum = 0.0;
  for (std::size_t i = coefficients.size(); i-- > 0;) sum = sum * t + coefficients[i];
  return sum / (1.0 + 2.0 * x);
}

constexpr double farthest = 27.3;  // erfc is below the smallest double from here on

}  // namespace

double erfc(double x) {
  const double size = std::abs(x);
  double upper = 0.0;
  if (size != size) return x;
  if (size <= farthest) {
    const Scaled bell = exp_of(-exact_product(size, size));
    upper = rounded({bell.value * scaled_erfc(size), bell.exponent});
  }
  return x < 0.0 ? 2.0 - upper : upper;
}

}  // namespace pulsewright::elementary
