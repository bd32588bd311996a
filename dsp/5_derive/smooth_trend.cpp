#include <fmt/format.h>

#include <algorithm>

#include "pulsewright/error.hpp"
#include "pulsewright/interval_spectrum.hpp"

namespace pulsewright {

/// Solves (I + lambda^2 D'D) z = x, D the second differences: a symmetric matrix of five diagonals, factored as L D L' on the way.
std::vector<double> smooth_trend(std::span<const double> values, double lambda) {
  if (!(lambda >= 0.0)) throw Error{ErrorCode::contract, fmt::format("smooth_trend: lambda {} is negative", lambda)};
  const std::size_t n = values.size();
  std::vector<double> z(values.begin(), values.end());
  if (n < 3) return z;
  const double weight = lambda * lambda;

  // Column i of D'D: how often row r of D (1, -2, 1 at r, r + 1, r + 2) meets itself there.
  const auto has_row = [&](std::size_t r) { return r + 2 < n ? 1.0 : 0.0; };
  const auto before = [&](std::size_t i, std::size_t back) { return i >= back ? has_row(i - back) : 0.0; };
  std::vector<double> pivot(n), first(n, 0.0), second(n, 0.0);  // D, and L one and two below the diagonal
  for (std::size_t i = 0; i < n; ++i) {
    const double diagonal = 1.0 + weight * (has_row(i) + 4.0 * before(i, 1) + before(i, 2));
    const double next = i + 1 < n ? weight * -2.0 * (has_row(i) + before(i, 1)) : 0.0;
    const double after_next = weight * has_row(i);
    double d = diagonal;
    double e = next;
    if (i >= 1) {
      d -= first[i - 1] * first[i - 1] * pivot[i - 1];
      e -= first[i - 1] * second[i - 1] * pivot[i - 1];
    }
    if (i >= 2) d -= second[i - 2] * second[i - 2] * pivot[i - 2];
    pivot[i] = d;
    first[i] = e / d;
    second[i] = after_next / d;
  }
  for (std::size_t i = 0; i < n; ++i) {
    if (i >= 1) z[i] -= first[i - 1] * z[i - 1];
    if (i >= 2) z[i] -= second[i - 2] * z[i - 2];
  }
  for (std::size_t i = 0; i < n; ++i) z[i] /= pivot[i];
  for (std::size_t i = n; i-- > 0;) {
    if (i + 1 < n) z[i] -= first[i] * z[i + 1];
    if (i + 2 < n) z[i] -= second[i] * z[i + 2];
  }
  return z;
}

}  // namespace pulsewright
