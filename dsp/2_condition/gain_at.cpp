#include <cmath>
#include <numbers>

#include "check_filter.hpp"
#include "elementary/elementary.hpp"
#include "pulsewright/condition.hpp"

namespace pulsewright {

std::complex<double> gain_at(const Sections& filter, Hertz f, Hertz rate) {
  condition_stage::check_rate(rate, "gain of a filter");
  // With d = e^(-i w), 1 + c1 d + c2 d^2 = (1 + c1 + c2) - c1 (1 - d) - c2 (1 - d^2): exact where a filter has its zeros, at d = 1.
  const double omega = 2.0 * std::numbers::pi * (f / rate);
  const double half = elementary::sin(omega / 2.0);
  const std::complex<double> step{2.0 * half * half, elementary::sin(omega)};  // 1 - d
  const std::complex<double> step2{2.0 * elementary::sin(omega) * elementary::sin(omega),
                                   elementary::sin(2.0 * omega)};  // 1 - d^2
  std::complex<double> gain{1.0, 0.0};
  for (const Section& s : filter) {
    gain *= elementary::quotient(s.b0 + s.b1 + s.b2 - s.b1 * step - s.b2 * step2,
                                 1.0 + s.a1 + s.a2 - s.a1 * step - s.a2 * step2);
  }
  return gain;
}

}  // namespace pulsewright
