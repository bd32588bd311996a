#include <cmath>

#include "elementary/elementary.hpp"
#include "pulsewright/complexity.hpp"

namespace pulsewright {

namespace {

/// r in the unit of the series; nothing for a constant one.
std::optional<double> absolute_tolerance(std::span<const double> values, double tolerance) {
  if (values.size() < 2) return std::nullopt;
  double mean = 0.0, squares = 0.0;
  for (const double v : values) mean += v;
  mean /= static_cast<double>(values.size());
  for (const double v : values) squares += (v - mean) * (v - mean);
  if (!(squares > 0.0)) return std::nullopt;
  return tolerance * std::sqrt(squares / static_cast<double>(values.size() - 1));
}

/// Mean of ln(count / runs).
double phi(const std::vector<std::uint32_t>& counts) {
  double sum = 0.0;
  const auto runs = static_cast<double>(counts.size());
  for (const std::uint32_t count : counts) sum += elementary::log(count / runs);
  return sum / runs;
}

/// Pairs of different runs that are close; each run counts itself.
std::uint64_t pairs(const std::vector<std::uint32_t>& counts) {
  std::uint64_t sum = 0;
  for (const std::uint32_t count : counts) sum += count - 1;
  return sum / 2;
}

Entropies within(std::span<const double> values, std::size_t length, double r) {
  Entropies result;
  if (values.size() < length + 2) return result;
  const std::vector<std::uint32_t> shorter = neighbour_counts(values, length, r);
  const std::vector<std::uint32_t> longer = neighbour_counts(values, length + 1, r);
  result.approximate = phi(shorter) - phi(longer);
  // Sample entropy leaves out the last short run, which no long one continues.
  const std::uint64_t of_shorter = pairs(shorter) - (shorter.back() - 1);
  const std::uint64_t of_longer = pairs(longer);
  if (of_shorter > 0 && of_longer > 0)
    result.sample = -elementary::log(static_cast<double>(of_longer) / static_cast<double>(of_shorter));
  return result;
}

/// Means of `scale` neighbours, without overlap; what is left at the end is left out.
std::vector<double> means_of_neighbours(std::span<const double> values, std::size_t scale) {
  std::vector<double> means;
  for (std::size_t i = 0; i + scale <= values.size(); i += scale) {
    double sum = 0.0;
    for (std::size_t k = 0; k < scale; ++k) sum += values[i + k];
    means.push_back(sum / static_cast<double>(scale));
  }
  return means;
}

}  // namespace

Entropies entropies(std::span<const double> values, const EntropyOptions& options) {
  const std::optional<double> r = absolute_tolerance(values, options.tolerance);
  return r ? within(values, options.length, *r) : Entropies{};
}

std::optional<double> sample_entropy(std::span<const double> values, const EntropyOptions& options) {
  return entropies(values, options).sample;
}

std::optional<double> approximate_entropy(std::span<const double> values, const EntropyOptions& options) {
  return entropies(values, options).approximate;
}

std::vector<std::optional<double>> multiscale_entropy(std::span<const double> values, int scales,
                                                      const EntropyOptions& options,
                                                      const std::optional<double>& of_scale_1) {
  const std::optional<double> r = absolute_tolerance(values, options.tolerance);
  std::vector<std::optional<double>> result;
  for (int scale = 1; scale <= scales; ++scale) {
    if (!r)
      result.push_back(std::nullopt);
    else if (scale == 1 && of_scale_1)
      result.push_back(of_scale_1);
    else
      result.push_back(within(means_of_neighbours(values, static_cast<std::size_t>(scale)), options.length, *r).sample);
  }
  return result;
}

}  // namespace pulsewright
