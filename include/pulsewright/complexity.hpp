/// Stage 5b: normal-to-normal intervals -> measures of their scatter, regularity and scaling.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace pulsewright {

/// The cloud of (interval, next interval): Brennan et al. 2001, IEEE TBME 48:1342.
struct Poincare {
  double sd1_ms = 0;    ///< across the line of identity: SDSD / sqrt 2 exactly
  double sd2_ms = 0;    ///< along it
  double area_ms2 = 0;  ///< of the ellipse with these half-axes
  /// Share of the squared differences that lengthen the interval (points above the line), in per cent: 50 is symmetric (Guzik et al. 2006,
  /// Biomed Tech 51:272 [from memory]). Absent when all differences are zero.
  std::optional<double> lengthening_percent;
};
/// `first[i]` and `second[i]` follow each other. Nothing for fewer than two pairs. Spreads divide by n - 1. Throws Error{contract} for unequal lengths.
[[nodiscard]] std::optional<Poincare> poincare(std::span<const double> first, std::span<const double> second);

/// For each run of `length` neighbouring values, how many such runs (itself included) are nowhere further away than `tolerance`. There are
/// values - length + 1 runs. Length 1 and 2 in n log n, 3 in n log^2 n, more by comparing those whose first values are close.
/// Throws Error{contract} for a length of 0 or a tolerance that is negative.
[[nodiscard]] std::vector<std::uint32_t> neighbour_counts(std::span<const double> values, std::size_t length,
                                                          double tolerance);

struct EntropyOptions {
  std::size_t length = 2;  ///< m
  double tolerance = 0.2;  ///< r, in standard deviations (n - 1) of the series
};
/// Sample entropy -ln(A / B), B and A the pairs of runs of m and m + 1 values within r, self-matches left out, both over the first n - m runs
/// (Richman & Moorman 2000, AJP Heart 278:H2039). Nothing when the series is constant, shorter than m + 2, or A or B is zero.
[[nodiscard]] std::optional<double> sample_entropy(std::span<const double> values, const EntropyOptions& options = {});
/// Approximate entropy phi(m) - phi(m + 1), self-matches counted (Pincus 1991, PNAS 88:2297). Nothing as above, zero counts apart.
[[nodiscard]] std::optional<double> approximate_entropy(std::span<const double> values,
                                                        const EntropyOptions& options = {});
/// Both from one count.
struct Entropies {
  std::optional<double> sample, approximate;
};
[[nodiscard]] Entropies entropies(std::span<const double> values, const EntropyOptions& options = {});

/// Sample entropy of the means of 1, 2, ... `scales` neighbouring values, r staying that of the series itself (Costa et al. 2002, PRL 89:068102). `of_scale_1`
/// saves counting again where it is known.
[[nodiscard]] std::vector<std::optional<double>> multiscale_entropy(
    std::span<const double> values, int scales, const EntropyOptions& options = {},
    const std::optional<double>& of_scale_1 = std::nullopt);

/// Exponent of detrended fluctuation analysis over boxes of `shortest` to `longest` values, every length: the slope of ln F over ln length,
/// F the root mean square about a straight line in each box of the running sum (Peng et al. 1995, Chaos 5:82). Boxes from the start, the rest left out; linear
/// time a length. White noise has 0.5, 1/f noise 1, Brownian noise 1.5; boxes below ten values bend the line somewhat. Nothing for a series
/// shorter than `longest`, or without fluctuation. Throws Error{contract} unless 3 <= shortest < longest.
[[nodiscard]] std::optional<double> fluctuation_exponent(std::span<const double> values, std::size_t shortest,
                                                         std::size_t longest);
/// The F of boxes of `box` values; 0 when the series is shorter.
[[nodiscard]] double fluctuation(std::span<const double> values, std::size_t box);

}  // namespace pulsewright
