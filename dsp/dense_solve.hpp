/// Dense systems of equations, solved in one place: the decompositions behind them are the dearest code to compile that the library has.
#pragma once

#include <Eigen/Core>
#include <complex>
#include <optional>
#include <span>
#include <vector>

namespace pulsewright {

/// The b for which |x b - y| is least, by Householder reflections (Golub & Van Loan 2013, Matrix Computations, 5.3). `x` has at least as many rows as
/// columns.
[[nodiscard]] Eigen::VectorXd least_squares(const Eigen::MatrixXd& x, const Eigen::VectorXd& y);

/// The inverse of a symmetric matrix that is not negative, by LDLt; without meaning where it is singular.
[[nodiscard]] Eigen::MatrixXd symmetric_inverse(const Eigen::MatrixXd& matrix);

/// The solution of a square system by LU with full pivoting; nothing where the matrix is singular.
[[nodiscard]] std::optional<Eigen::VectorXd> solve_square(const Eigen::MatrixXd& matrix, const Eigen::VectorXd& right);

/// The roots of z^p - a1 z^(p-1) - ... - ap, as eigenvalues of the companion matrix; those at zero are left out.
[[nodiscard]] std::vector<std::complex<double>> roots_of_recursion(std::span<const double> a);

}  // namespace pulsewright
