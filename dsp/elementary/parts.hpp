/// The functions of elementary.hpp before they are rounded: relative error about 2^-67.
#pragma once

#include "double_double.hpp"

namespace pulsewright::elementary::stage {

/// ln x of a positive, finite `x`.
[[nodiscard]] Two log_of(double x);
/// ln (x.high + x.low); x.high positive and finite.
[[nodiscard]] Two log_of(Two x);

/// e^x as a value near 1 and a power of two.
struct Scaled {
  Two value;
  int exponent;
};
/// |x.high| at most 800.
[[nodiscard]] Scaled exp_of(Two x);
/// The value rounded, overflow and underflow as IEEE 754 has them.
[[nodiscard]] double rounded(const Scaled& scaled);

/// arctan(y / x) in the quadrant of (x, y); neither infinite, not both 0.
[[nodiscard]] Two atan2_of(Two y, Two x);

/// Square root of a positive number.
[[nodiscard]] Two sqrt_of(Two x);
/// sqrt(x^2 + y^2); both between 2^-500 and 2^500 in size, or 0, and not both 0.
[[nodiscard]] Two hypot_of(double x, double y);

}  // namespace pulsewright::elementary::stage
