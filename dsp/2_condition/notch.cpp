#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "check_filter.hpp"
#include "elementary/elementary.hpp"
#include "pulsewright/condition.hpp"

namespace pulsewright {

/// Zeros on the unit circle, poles just inside them; the bilinear transform of an analogue notch, after Orfanidis, Introduction to
/// Signal Processing, section 11.3.
Sections notch(Hertz centre, double quality, Hertz rate) {
  condition_stage::check_rate(rate, "notch");
  condition_stage::check_edge(centre, rate, "notch");
  if (!(quality > 0.0) || !std::isfinite(quality)) {
    throw Error{ErrorCode::contract, fmt::format("notch: the quality is {}, it must be positive", quality)};
  }
  const double omega = 2.0 * std::numbers::pi * (centre / rate);
  const double width = omega / quality;
  if (!(width < std::numbers::pi)) {
    throw Error{ErrorCode::contract,
                fmt::format("notch: the quality {} makes it wider than half the sampling rate", quality)};
  }
  const double gain = 1.0 / (1.0 + elementary::tan(width / 2.0));
  const double cosine = elementary::cos(omega);
  return {{gain, -2.0 * gain * cosine, gain, -2.0 * gain * cosine, 2.0 * gain - 1.0}};
}

}  // namespace pulsewright
