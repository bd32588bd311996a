/// Which order an autoregressive model should have.
#pragma once

#include <cmath>
#include <span>

#include "elementary/elementary.hpp"
#include "pulsewright/interval_spectrum.hpp"

namespace pulsewright {

/// The order of least criterion; `error[p]` is the mean square of prediction at order p, of a series of n. Orders after an error that is not above
/// 1e-12 of that of order 0 add nothing and are not looked at.
[[nodiscard]] inline int order_choice(std::span<const double> error, std::size_t n, OrderCriterion criterion) {
  const auto samples = static_cast<double>(n);
  int best = 0;
  double least = 0.0;
  for (std::size_t p = 0; p < error.size(); ++p) {
    if (p > 0 && !(error[p] > 1e-12 * error[0])) return static_cast<int>(p);
    const auto order = static_cast<double>(p);
    double value = 0.0;
    switch (criterion) {
      case OrderCriterion::akaike: value = samples * elementary::log(error[p]) + 2.0 * order; break;
      case OrderCriterion::description_length:
        value = samples * elementary::log(error[p]) + order * elementary::log(samples);
        break;
      case OrderCriterion::prediction_error: value = error[p] * (samples + order) / (samples - order); break;
    }
    if (p == 0 || value < least) {
      least = value;
      best = static_cast<int>(p);
    }
  }
  return best;
}

/// The series without its mean, and the highest order to look at: that of the options, at most a third of the samples. Throws Error{contract}.
struct ModelInput {
  std::vector<double> x;
  std::size_t highest = 0;
};
[[nodiscard]] ModelInput model_input(const EvenStretch& series, const AutoregressiveOptions& options);

}  // namespace pulsewright
