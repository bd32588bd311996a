#include <fmt/format.h>

#include <cmath>

#include "pulsewright/error.hpp"
#include "pulsewright/interval_spectrum.hpp"

namespace pulsewright {

namespace {

constexpr std::size_t fewest_knots = 3;

/// Second derivatives of the natural cubic spline through (t, y): a tridiagonal system, solved from both ends (Thomas).
std::vector<double> spline_curvature(std::span<const double> t, std::span<const double> y) {
  const std::size_t n = t.size();
  std::vector<double> curvature(n, 0.0), upper(n, 0.0);
  for (std::size_t i = 1; i + 1 < n; ++i) {
    const double left = t[i] - t[i - 1];
    const double right = t[i + 1] - t[i];
    const double slope_change = (y[i + 1] - y[i]) / right - (y[i] - y[i - 1]) / left;
    const double pivot = 2.0 * (left + right) - left * upper[i - 1];
    upper[i] = right / pivot;
    curvature[i] = (6.0 * slope_change - left * curvature[i - 1]) / pivot;
  }
  for (std::size_t i = n - 1; i-- > 1;) curvature[i] -= upper[i] * curvature[i + 1];
  return curvature;
}

EvenStretch stretch_through(std::span<const double> t, std::span<const double> y, Hertz rate) {
  EvenStretch stretch;
  stretch.start = Seconds{t.front()};
  stretch.rate = rate;
  const std::vector<double> curvature = spline_curvature(t, y);
  const auto count = static_cast<std::size_t>(std::floor((t.back() - t.front()) * rate.value())) + 1;
  stretch.ms.reserve(count);
  std::size_t k = 0;
  for (std::size_t i = 0; i < count; ++i) {
    const double at = t.front() + static_cast<double>(i) / rate.value();
    while (k + 2 < t.size() && t[k + 1] <= at) ++k;
    const double h = t[k + 1] - t[k];
    const double b = (at - t[k]) / h;
    const double a = 1.0 - b;
    stretch.ms.push_back(a * y[k] + b * y[k + 1] +
                         ((a * a * a - a) * curvature[k] + (b * b * b - b) * curvature[k + 1]) * h * h / 6.0);
  }
  return stretch;
}

}  // namespace

std::vector<EvenStretch> on_even_grid(std::span<const NormalInterval> series, Hertz rate, Seconds longest_hole) {
  if (!(rate.value() > 0.0))
    throw Error{ErrorCode::contract, fmt::format("on_even_grid: a rate of {} Hz; it must be above 0", rate.value())};
  std::vector<EvenStretch> stretches;
  std::vector<double> t, y;
  const auto close = [&] {
    if (t.size() >= fewest_knots) stretches.push_back(stretch_through(t, y, rate));
    t.clear();
    y.clear();
  };
  for (std::size_t i = 0; i < series.size(); ++i) {
    if (i > 0 && series[i].start - series[i - 1].end > longest_hole) close();
    t.push_back(series[i].end.value());
    y.push_back(series[i].ms);
  }
  close();
  return stretches;
}

}  // namespace pulsewright
