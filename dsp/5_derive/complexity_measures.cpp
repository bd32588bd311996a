#include <fmt/format.h>

#include "variability_parts.hpp"

namespace pulsewright {

namespace {

/// Fewest intervals for entropies with m = 2 (Richman & Moorman 2000 recommend 10^m to 20^m; 200 is ours).
constexpr std::size_t fewest_for_entropy = 200;
/// Box lengths of the two exponents (Peng et al. 1995, Chaos 5:82), and how many of the longest a series must hold (ours).
constexpr std::size_t short_boxes[] = {4, 16}, long_boxes[] = {16, 64};
constexpr std::size_t fewest_boxes = 4;

std::optional<double> exponent(const NormalSeries& series, const std::size_t (&boxes)[2], const char* measure,
                               Variability& result) {
  const std::size_t fewest = fewest_boxes * boxes[1];
  if (series.nn.size() < fewest) {
    refuse(result.reasons, {measure}, fmt::format("{} intervals, fewer than {}.", series.nn.size(), fewest));
    return std::nullopt;
  }
  const std::optional<double> alpha = fluctuation_exponent(series.nn, boxes[0], boxes[1]);
  if (!alpha) refuse(result.reasons, {measure}, "The intervals do not fluctuate.");
  return alpha;
}

}  // namespace

void complexity_measures(const NormalSeries& series, const VariabilityOptions& options, Variability& result) {
  result.alpha1 = exponent(series, short_boxes, "alpha1", result);
  result.alpha2 = exponent(series, long_boxes, "alpha2", result);
  if (series.nn.size() < fewest_for_entropy) {
    refuse(result.reasons, {"sample_entropy", "approximate_entropy", "multiscale_entropy"},
           fmt::format("{} intervals, fewer than {}.", series.nn.size(), fewest_for_entropy));
    return;
  }
  const Entropies both = entropies(series.nn, options.entropy);
  result.sample_entropy = both.sample;
  result.approximate_entropy = both.approximate;
  const char* why = "The intervals are constant, or no runs of them are alike.";
  if (!both.sample) refuse(result.reasons, {"sample_entropy"}, why);
  if (!both.approximate) refuse(result.reasons, {"approximate_entropy"}, why);
  // Means over a scale leave fewer values; scales with too few are not taken.
  const int scales = std::min(options.entropy_scales, static_cast<int>(series.nn.size() / fewest_for_entropy));
  result.multiscale_entropy = multiscale_entropy(series.nn, scales, options.entropy, both.sample);
  result.multiscale_entropy.resize(static_cast<std::size_t>(std::max(0, options.entropy_scales)));
  for (const auto& value : result.multiscale_entropy)
    if (!value) {
      refuse(result.reasons, {"multiscale_entropy"},
             fmt::format("A scale has fewer than {} means, or none of their runs are alike.", fewest_for_entropy));
      break;
    }
}

void refuse_complexity(Variability& result, const std::string& why) {
  refuse(result.reasons, {"sample_entropy", "approximate_entropy", "multiscale_entropy", "alpha1", "alpha2"}, why);
}

}  // namespace pulsewright
