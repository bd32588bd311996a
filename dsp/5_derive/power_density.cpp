#include <algorithm>
#include <cmath>

#include "pulsewright/interval_spectrum.hpp"

namespace pulsewright {

double PowerDensity::power_ms2(Hertz low, Hertz high) const {
  const std::size_t n = density_ms2_per_hz.size();
  if (n == 0 || !(low < high)) return 0.0;
  const double df = step.value();
  const double top = first.value() + static_cast<double>(n - 1) * df;  // the last cell ends in its middle
  double sum = 0.0;
  for (std::size_t k = 0; k < n; ++k) {
    const double middle = first.value() + static_cast<double>(k) * df;
    const double from = std::max(0.0, middle - 0.5 * df);
    const double to = n > 1 ? std::min(top, middle + 0.5 * df) : middle + 0.5 * df;
    const double overlap = std::min(to, high.value()) - std::max(from, low.value());
    if (overlap > 0.0) sum += density_ms2_per_hz[k] * df * (overlap / (to - from));
  }
  return sum;
}

std::optional<Hertz> PowerDensity::peak(Hertz low, Hertz high) const {
  const std::vector<double>& p = density_ms2_per_hz;
  std::optional<std::size_t> best;
  for (std::size_t k = 1; k + 1 < p.size(); ++k) {
    const Hertz at = first + static_cast<double>(k) * step;
    if (at < low || !(at < high) || p[k] < p[k - 1] || p[k] <= p[k + 1]) continue;
    if (!best || p[k] > p[*best]) best = k;
  }
  if (!best) return std::nullopt;
  const double left = p[*best - 1], middle = p[*best], right = p[*best + 1];
  const double bend = left - 2.0 * middle + right;
  const double shift = bend < 0.0 ? 0.5 * (left - right) / bend : 0.0;
  return first + (static_cast<double>(*best) + shift) * step;
}

}  // namespace pulsewright
