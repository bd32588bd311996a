#include <algorithm>
#include <cmath>

#include "order_choice.hpp"
#include "pulsewright/interval_spectrum.hpp"

namespace pulsewright {

AutoregressiveModel burg_model(const EvenStretch& series, const AutoregressiveOptions& options) {
  const ModelInput input = model_input(series, options);
  const std::size_t n = input.x.size();
  std::vector<double> forward = input.x, backward = input.x;
  std::vector<double> error{0.0};
  for (const double v : input.x) error[0] += v * v;
  error[0] /= static_cast<double>(n);
  if (!(error[0] > 0.0)) return AutoregressiveModel{{}, 0.0, series.rate};

  std::vector<std::vector<double>> models{{}};  // coefficients of each order
  for (std::size_t p = 1; p <= input.highest; ++p) {
    double product = 0.0, squares = 0.0;
    for (std::size_t i = p; i < n; ++i) {
      product += forward[i] * backward[i - 1];
      squares += forward[i] * forward[i] + backward[i - 1] * backward[i - 1];
    }
    if (!(squares > 0.0)) break;
    const double reflection = 2.0 * product / squares;
    const std::vector<double>& last = models.back();
    std::vector<double> next(p);
    for (std::size_t k = 0; k + 1 < p; ++k) next[k] = last[k] - reflection * last[p - 2 - k];
    next[p - 1] = reflection;
    models.push_back(std::move(next));
    error.push_back(error.back() * (1.0 - reflection * reflection));
    for (std::size_t i = n; i-- > p;) {
      const double f = forward[i], b = backward[i - 1];
      forward[i] = f - reflection * b;
      backward[i] = b - reflection * f;
    }
  }
  const std::size_t order =
      options.order ? models.size() - 1 : static_cast<std::size_t>(order_choice(error, n, options.criterion));
  return AutoregressiveModel{models[order], error[order], series.rate};
}

}  // namespace pulsewright
