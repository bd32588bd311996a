#include "dense_solve.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <Eigen/QR>

namespace pulsewright {

Eigen::VectorXd least_squares(const Eigen::MatrixXd& x, const Eigen::VectorXd& y) { return x.householderQr().solve(y); }

Eigen::MatrixXd symmetric_inverse(const Eigen::MatrixXd& matrix) {
  return matrix.ldlt().solve(Eigen::MatrixXd::Identity(matrix.rows(), matrix.cols()));
}

std::optional<Eigen::VectorXd> solve_square(const Eigen::MatrixXd& matrix, const Eigen::VectorXd& right) {
  const Eigen::FullPivLU<Eigen::MatrixXd> factors(matrix);
  if (!factors.isInvertible()) return std::nullopt;
  return factors.solve(right);
}

std::vector<std::complex<double>> roots_of_recursion(std::span<const double> a) {
  while (!a.empty() && a.back() == 0.0) a = a.first(a.size() - 1);
  const auto p = static_cast<Eigen::Index>(a.size());
  if (p == 0) return {};
  Eigen::MatrixXd companion = Eigen::MatrixXd::Zero(p, p);
  for (Eigen::Index k = 0; k < p; ++k) companion(0, k) = a[static_cast<std::size_t>(k)];
  for (Eigen::Index k = 1; k < p; ++k) companion(k, k - 1) = 1.0;
  const Eigen::VectorXcd values = companion.eigenvalues();
  return {values.begin(), values.end()};
}

}  // namespace pulsewright
