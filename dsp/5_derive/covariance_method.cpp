#include <Eigen/Cholesky>

#include "order_choice.hpp"
#include "pulsewright/interval_spectrum.hpp"

namespace pulsewright {

namespace {

/// Products summed over the samples with `highest` before them: C(j, k) = sum x[n - j] x[n - k]. The first row by sums, the rest from the one up
/// and to the left.
Eigen::MatrixXd lagged_products(const std::vector<double>& x, std::size_t highest) {
  const std::size_t n = x.size();
  const auto size = static_cast<Eigen::Index>(highest + 1);
  Eigen::MatrixXd c(size, size);
  for (std::size_t k = 0; k <= highest; ++k) {
    double sum = 0.0;
    for (std::size_t i = highest; i < n; ++i) sum += x[i] * x[i - k];
    c(0, static_cast<Eigen::Index>(k)) = c(static_cast<Eigen::Index>(k), 0) = sum;
  }
  for (Eigen::Index j = 1; j < size; ++j)
    for (Eigen::Index k = j; k < size; ++k) {
      const auto a = static_cast<std::size_t>(j), b = static_cast<std::size_t>(k);
      c(j, k) = c(k, j) = c(j - 1, k - 1) + x[highest - a] * x[highest - b] - x[n - a] * x[n - b];
    }
  return c;
}

}  // namespace

AutoregressiveModel covariance_model(const EvenStretch& series, const AutoregressiveOptions& options) {
  const ModelInput input = model_input(series, options);
  const Eigen::MatrixXd c = lagged_products(input.x, input.highest);
  const Eigen::Index size = c.rows();
  const Eigen::MatrixXd both = c + c.reverse();  // forward and backward prediction
  const double sums = 2.0 * static_cast<double>(input.x.size() - input.highest);
  if (!(both(0, 0) > 0.0)) return AutoregressiveModel{{}, 0.0, series.rate};

  std::vector<double> error;
  std::vector<Eigen::VectorXd> models;
  for (Eigen::Index p = options.order ? size - 1 : 0; p < size; ++p) {
    Eigen::VectorXd a;
    double left = both(0, 0);
    if (p > 0) {
      const Eigen::VectorXd right = both.block(1, 0, p, 1);
      a = both.block(1, 1, p, p).ldlt().solve(right);
      left -= a.dot(right);
    }
    error.push_back(left / sums);
    models.push_back(a);
  }
  const std::size_t chosen =
      options.order ? 0 : static_cast<std::size_t>(order_choice(error, input.x.size(), options.criterion));
  const std::size_t order = std::min(chosen, models.size() - 1);
  const double noise = std::max(error[order], 1e-12 * both(0, 0) / sums);
  const std::span<const double> a{models[order].data(), static_cast<std::size_t>(models[order].size())};
  // Least squares say where the power is better than how much there is: the model is scaled to the mean square of the series.
  double mean_square = 0.0;
  for (const double v : input.x) mean_square += v * v;
  mean_square /= static_cast<double>(input.x.size());
  const double total = AutoregressiveModel{a, noise, series.rate}.power_ms2(Hertz{0.0}, 0.5 * series.rate);
  return AutoregressiveModel{a, noise * mean_square / total, series.rate};
}

}  // namespace pulsewright
