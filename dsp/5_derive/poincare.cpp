#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "pulsewright/complexity.hpp"
#include "pulsewright/error.hpp"

namespace pulsewright {

namespace {

/// Standard deviation with n - 1 of `a[i] + sign b[i]`.
double spread_of_sums(std::span<const double> a, std::span<const double> b, double sign) {
  const auto n = static_cast<double>(a.size());
  double mean = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i) mean += a[i] + sign * b[i];
  mean /= n;
  double squares = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i) squares += (a[i] + sign * b[i] - mean) * (a[i] + sign * b[i] - mean);
  return std::sqrt(squares / (n - 1.0));
}

}  // namespace

std::optional<Poincare> poincare(std::span<const double> first, std::span<const double> second) {
  if (first.size() != second.size())
    throw Error{ErrorCode::contract,
                fmt::format("poincare: {} intervals and {} that follow them", first.size(), second.size())};
  if (first.size() < 2) return std::nullopt;
  Poincare result;
  result.sd1_ms = spread_of_sums(second, first, -1.0) / std::numbers::sqrt2;
  result.sd2_ms = spread_of_sums(second, first, 1.0) / std::numbers::sqrt2;
  result.area_ms2 = std::numbers::pi * result.sd1_ms * result.sd2_ms;
  double lengthening = 0.0, all = 0.0;
  for (std::size_t i = 0; i < first.size(); ++i) {
    const double step = second[i] - first[i];
    all += step * step;
    if (step > 0.0) lengthening += step * step;
  }
  if (all > 0.0) result.lengthening_percent = 100.0 * lengthening / all;
  return result;
}

}  // namespace pulsewright
