#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <utility>
#include <vector>

#include "check_filter.hpp"
#include "elementary/elementary.hpp"
#include "pulsewright/condition.hpp"

namespace pulsewright {

namespace {

using condition_stage::check_edge;
using condition_stage::check_order;
using condition_stage::check_rate;
using elementary::Complex;

/// Two poles or two zeros that make real coefficients together: conjugates, or both real. `count` 1 when there is only `first`.
struct RootPair {
  Complex first;
  Complex second;
  int count = 2;
};

/// Poles of the Butterworth low-pass with corner 1 rad/s (Butterworth 1930): evenly spaced on the left half of the unit circle.
/// Only those with a positive imaginary part, then the real one of an odd order.
std::vector<Complex> prototype_poles(int order) {
  std::vector<Complex> poles;
  for (int k = 0; k < order / 2; ++k) {
    const double angle = std::numbers::pi * (2.0 * k + 1.0) / (2.0 * order);
    poles.emplace_back(-elementary::sin(angle), elementary::cos(angle));
  }
  if (order % 2 == 1) poles.emplace_back(-1.0, 0.0);
  return poles;
}

/// The pre-warped analogue frequency of a digital edge, for the bilinear transform s = (z - 1) / (z + 1).
double prewarp(Hertz edge, Hertz rate) { return elementary::tan(std::numbers::pi * (edge / rate)); }

Complex bilinear(Complex s) { return elementary::quotient(1.0 + s, 1.0 - s); }

/// Coefficients of (1 - r1 z^-1)(1 - r2 z^-1) after the leading 1.
std::pair<double, double> polynomial(const RootPair& roots) {
  if (roots.count == 1) return {-roots.first.real(), 0.0};
  return {-(roots.first + roots.second).real(), (roots.first * roots.second).real()};
}

/// A section with the given analogue poles and digital zeros, its gain at the digital frequency `omega` (radians a sample) made 1.
Section make_section(const RootPair& analogue_poles, const RootPair& zeros, double omega) {
  const RootPair poles{bilinear(analogue_poles.first), bilinear(analogue_poles.second), analogue_poles.count};
  const auto [a1, a2] = polynomial(poles);
  const auto [b1, b2] = polynomial(zeros);
  const Complex d = elementary::turn(-omega);
  const double gain = elementary::abs(1.0 + (a1 + a2 * d) * d) / elementary::abs(1.0 + (b1 + b2 * d) * d);
  return {gain, gain * b1, gain * b2, a1, a2};
}

/// The distance of the outermost pole from the origin.
double radius(const Section& section) {
  const double discriminant = section.a1 * section.a1 - 4.0 * section.a2;
  if (discriminant < 0.0) return std::sqrt(section.a2);
  return (std::abs(section.a1) + std::sqrt(discriminant)) / 2.0;
}

/// The sharpest resonance last, so that no section amplifies what a later one has to take away.
Sections in_order(Sections sections) {
  std::stable_sort(sections.begin(), sections.end(),
                   [](const Section& a, const Section& b) { return radius(a) < radius(b); });
  return sections;
}

/// Low-pass or high-pass: prototype pole p becomes W p or W / p, and all zeros lie at z = -1 or z = 1.
Sections one_edge(int order, double warped, bool high) {
  const double zero = high ? 1.0 : -1.0;
  const double reference = high ? std::numbers::pi : 0.0;
  Sections sections;
  for (const Complex p : prototype_poles(order)) {
    const Complex s = high ? elementary::quotient(warped, p) : warped * p;
    const int count = p.imag() == 0.0 ? 1 : 2;
    sections.push_back(make_section({s, std::conj(s), count}, {zero, zero, count}, reference));
  }
  return in_order(std::move(sections));
}

/// The pole pairs of a band filter, `order` of them, lowest natural frequency first. `scaled` is half the bandwidth times
/// p (band-pass) or over p (band-stop); both substitutions solve s^2 - 2 scaled s + W0^2 = 0.
std::vector<RootPair> band_poles(const std::vector<Complex>& scaled, double centre) {
  std::vector<RootPair> pairs;
  for (const Complex h : scaled) {
    const Complex root = elementary::sqrt(h * h - centre * centre);
    const Complex far = elementary::abs(h + root) > elementary::abs(h - root) ? h + root : h - root;
    const Complex near = elementary::quotient(centre * centre, far);  // the product of both is W0^2: no cancellation
    if (h.imag() == 0.0) {
      pairs.push_back({near, far});
    } else {
      pairs.push_back({near, std::conj(near)});
      pairs.push_back({far, std::conj(far)});
    }
  }
  std::stable_sort(pairs.begin(), pairs.end(), [](const RootPair& a, const RootPair& b) {
    return elementary::abs(a.first * a.second) < elementary::abs(b.first * b.second);
  });
  return pairs;
}

void check_band(int order, Hertz low, Hertz high, Hertz rate, const std::string& what) {
  check_rate(rate, what);
  check_order(order, what);
  check_edge(low, rate, what);
  check_edge(high, rate, what);
  if (!(low < high)) {
    throw Error{ErrorCode::contract, what + ": the low edge must lie below the high edge"};
  }
}

}  // namespace

Sections butterworth_lowpass(int order, Hertz edge, Hertz rate) {
  check_rate(rate, "low-pass");
  check_order(order, "low-pass");
  check_edge(edge, rate, "low-pass");
  return one_edge(order, prewarp(edge, rate), false);
}

Sections butterworth_highpass(int order, Hertz edge, Hertz rate) {
  check_rate(rate, "high-pass");
  check_order(order, "high-pass");
  check_edge(edge, rate, "high-pass");
  return one_edge(order, prewarp(edge, rate), true);
}

Sections butterworth_bandpass(int order, Hertz low, Hertz high, Hertz rate) {
  check_band(order, low, high, rate, "band-pass");
  const double w1 = prewarp(low, rate);
  const double w2 = prewarp(high, rate);
  const double centre = std::sqrt(w1 * w2);
  std::vector<Complex> scaled = prototype_poles(order);
  for (Complex& p : scaled) p *= (w2 - w1) / 2.0;
  const std::vector<RootPair> poles = band_poles(scaled, centre);

  // The lower half of the poles takes the zeros at z = 1, the upper half those at z = -1; the middle of an odd order one of each.
  const std::size_t half = poles.size() / 2;
  Sections sections;
  for (std::size_t i = 0; i < poles.size(); ++i) {
    RootPair zeros{1.0, -1.0};
    if (i < half) zeros = {1.0, 1.0};
    if (i >= poles.size() - half) zeros = {-1.0, -1.0};
    sections.push_back(make_section(poles[i], zeros, 2.0 * elementary::atan(centre)));
  }
  return in_order(std::move(sections));
}

Sections butterworth_bandstop(int order, Hertz low, Hertz high, Hertz rate) {
  check_band(order, low, high, rate, "band-stop");
  const double w1 = prewarp(low, rate);
  const double w2 = prewarp(high, rate);
  const double centre = std::sqrt(w1 * w2);
  std::vector<Complex> scaled = prototype_poles(order);
  for (Complex& p : scaled) p = elementary::quotient((w2 - w1) / 2.0, p);
  const Complex zero = elementary::turn(2.0 * elementary::atan(centre));
  Sections sections;
  for (const RootPair& poles : band_poles(scaled, centre)) {
    sections.push_back(make_section(poles, {zero, std::conj(zero)}, 0.0));
  }
  return in_order(std::move(sections));
}

}  // namespace pulsewright
