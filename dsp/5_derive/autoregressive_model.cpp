#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>

#include "dense_solve.hpp"
#include "elementary/elementary.hpp"
#include "pulsewright/interval_spectrum.hpp"

namespace pulsewright {

namespace {

using elementary::Complex;

}  // namespace

AutoregressiveModel::AutoregressiveModel(std::span<const double> coefficients, double noise_variance, Hertz rate)
    : coefficients_(coefficients.begin(), coefficients.end()), noise_variance_(noise_variance), rate_(rate) {
  std::vector<Complex> poles = roots_of_recursion(coefficients_);
  // A pole on the circle would have infinite power.
  constexpr double outermost = 1.0 - 1e-9;
  bool mirrored = false;
  for (Complex& pole : poles) {
    const double radius = elementary::abs(pole);
    if (radius > 1.0) {
      noise_variance_ /= radius * radius;
      pole = elementary::quotient(1.0, std::conj(pole));
      mirrored = true;
    }
    if (elementary::abs(pole) > outermost) pole *= outermost / elementary::abs(pole);
  }
  if (mirrored) {  // the coefficients that belong to the mirrored poles: the product of (1 - pole / z)
    std::vector<Complex> product{1.0};
    for (const Complex& pole : poles) {
      product.push_back(0.0);
      for (std::size_t k = product.size() - 1; k > 0; --k) product[k] -= pole * product[k - 1];
    }
    for (std::size_t k = 0; k < coefficients_.size(); ++k)
      coefficients_[k] = k + 1 < product.size() ? -product[k + 1].real() : 0.0;
  }
  // Autocovariance is the sum of weight * pole^lag; each weight is a residue of noise_variance / (A(z) A(1/z)).
  for (std::size_t k = 0; k < poles.size(); ++k) {
    Complex denominator = 1.0 - poles[k] * poles[k];
    for (std::size_t j = 0; j < poles.size(); ++j)
      if (j != k) denominator *= (1.0 - elementary::quotient(poles[j], poles[k])) * (1.0 - poles[j] * poles[k]);
    const Complex weight = elementary::quotient(noise_variance_, denominator);
    poles_.push_back({poles[k].real(), poles[k].imag(), weight.real(), weight.imag()});
  }
}

double AutoregressiveModel::density_ms2_per_hz(Hertz at) const {
  const double w = 2.0 * std::numbers::pi * (at / rate_);
  Complex response = 1.0;
  for (std::size_t k = 0; k < coefficients_.size(); ++k)
    response -= coefficients_[k] * elementary::turn(-w * static_cast<double>(k + 1));
  return 2.0 * noise_variance_ / (rate_.value() * std::norm(response));
}

/// Integral of the spectrum from 0 to w. With autocovariance sum c p^|lag| it is, pole by pole, c (w + i log((1 - p e^iw) / (1 - p e^-iw))) / pi:
/// the sum over lags of p^lag sin(lag w) / lag.
double AutoregressiveModel::power_below(double radians) const {
  if (poles_.empty()) return noise_variance_ * radians / std::numbers::pi;
  const Complex turn = elementary::turn(radians);
  double sum = 0.0;
  for (const Pole& pole : poles_) {
    const Complex p{pole.real, pole.imaginary}, weight{pole.weight_real, pole.weight_imaginary};
    const Complex logs = elementary::log(1.0 - p * turn) - elementary::log(1.0 - p * std::conj(turn));
    sum += (weight * (radians + Complex{0.0, 1.0} * logs)).real();
  }
  return sum / std::numbers::pi;
}

double AutoregressiveModel::power_ms2(Hertz low, Hertz high) const {
  const auto radians = [&](Hertz at) { return 2.0 * std::numbers::pi * std::clamp(at / rate_, 0.0, 0.5); };
  return low < high ? power_below(radians(high)) - power_below(radians(low)) : 0.0;
}

std::optional<Hertz> AutoregressiveModel::peak(Hertz low, Hertz high) const {
  // Maxima lie near the angles of poles; a walk uphill in ever smaller steps from each.
  std::optional<Hertz> best;
  double highest = 0.0;
  for (const Pole& pole : poles_) {
    if (pole.imaginary <= 0.0) continue;
    const double angle = elementary::atan2(pole.imaginary, pole.real);
    double at = angle / (2.0 * std::numbers::pi) * rate_.value();
    double here = density_ms2_per_hz(Hertz{at});
    for (double step = 0.01 * rate_.value(); step > 1e-7 * rate_.value(); step *= 0.5)
      for (bool moved = true; moved;) {
        moved = false;
        for (const double to : {at - step, at + step}) {
          const double there = to > 0.0 && to < 0.5 * rate_.value() ? density_ms2_per_hz(Hertz{to}) : 0.0;
          if (there > here) at = to, here = there, moved = true;
        }
      }
    if (at < low.value() || at >= high.value() || (best && here <= highest)) continue;
    best = Hertz{at};
    highest = here;
  }
  return best;
}

}  // namespace pulsewright
