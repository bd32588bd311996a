#include <algorithm>
#include <cmath>

#include "variability_parts.hpp"

namespace pulsewright {

namespace {

/// Bins of 1/128 s, from 0 (Task Force 1996).
constexpr double bin_ms = 1000.0 / 128.0;
/// The Task Force asks for 20 minutes at least.
constexpr Seconds least_length{1200.0};

/// One flank of the triangle: counts from the highest bin outwards, the highest first. Returns how many bins away its foot is: the bin at which the
/// straight line down from the apex reaches zero that leaves the least squares, zero beyond the foot.
double flank(const std::vector<double>& counts) {
  double least = -1.0, best = 1.0;
  for (std::size_t foot = 1; foot <= counts.size(); ++foot) {
    double error = 0.0;
    for (std::size_t k = 1; k < counts.size(); ++k) {
      const double line = std::max(0.0, counts[0] * (1.0 - static_cast<double>(k) / static_cast<double>(foot)));
      error += (counts[k] - line) * (counts[k] - line);
    }
    if (least >= 0.0 && error >= least) continue;
    least = error;
    best = static_cast<double>(foot);
  }
  return best;
}

}  // namespace

void histogram_measures(const NormalSeries& series, Variability& result) {
  if (!long_enough(series.length(), least_length))
    return refuse_histogram(result, "Shorter than the 20 minutes that the Task Force 1996 asks for.");
  const auto bin_of = [](double ms) { return static_cast<std::size_t>(ms / bin_ms); };
  const std::size_t first = bin_of(*result.min_nn_ms), last = bin_of(*result.max_nn_ms);
  std::vector<double> counts(last - first + 1, 0.0);
  for (const double ms : series.nn) counts[bin_of(ms) - first] += 1.0;
  const auto highest = std::max_element(counts.begin(), counts.end());
  result.triangular_index = static_cast<double>(series.nn.size()) / *highest;
  // Apart from the height at the highest bin, the two flanks have nothing in common: each is fitted alone.
  const std::vector<double> right(highest, counts.end());
  const std::vector<double> left(std::make_reverse_iterator(highest + 1), counts.rend());
  result.tinn_ms = bin_ms * (flank(left) + flank(right));
}

void refuse_histogram(Variability& result, const std::string& why) {
  refuse(result.reasons, {"triangular_index", "tinn_ms"}, why);
}

}  // namespace pulsewright
