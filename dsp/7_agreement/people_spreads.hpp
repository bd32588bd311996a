/// What is known of people's own spreads when everybody has one of their own.
#pragma once

#include <span>
#include <vector>

namespace pulsewright {

/// One person's variance around the own mean, as it was found.
struct PersonSpread {
  double variance = 0;  ///< above 0
  double degrees = 0;   ///< of freedom
};

/// People's SDs are taken for log-normal: the logarithm of a person's SD is normal with mean m and SD
/// tau over people, and a variance found with d degrees of freedom is that person's times chi squared
/// over d. This is the distribution of (m, tau) given what was found, on a grid; m is flat, and tau
/// half-normal with SD 1. (Sensors on people: tau is 0.8 to 1.2 on treadmill, at the bedside and at
/// the wrist. A flat tau is as right and, from eight people, three times as wide.)
class PeopleSpreads {
 public:
  /// At least two people.
  explicit PeopleSpreads(std::span<const PersonSpread> people);

  /// m and tau, exponentiated: the mean over people of the variance.
  struct Draw {
    double log_sd = 0;     ///< m
    double log_sd_sd = 0;  ///< tau
    [[nodiscard]] double mean_variance() const;
  };
  /// `tau_share` and `log_share` are where in their distributions, from 0 to 1.
  [[nodiscard]] Draw draw(double tau_share, double log_share) const;
  /// A person's variance, drawn towards those of the others as far as it is uncertain. A person of
  /// whom nothing is known (no degrees) has that of the typical one.
  [[nodiscard]] double shrunken(const PersonSpread& person) const;

 private:
  struct Slice {
    double tau = 0;
    std::vector<double> log_sd, cumulated;
  };
  std::vector<Slice> slices_;  ///< by tau
  std::vector<double> taus_, tau_cumulated_;
  Draw typical_;
};

/// Where a share (0 to 1) lies in a distribution that is given by its cumulated weight at each of
/// `at`, straight lines between.
[[nodiscard]] double at_share(std::span<const double> at, std::span<const double> cumulated, double share);
/// Weight up to each of `at`, of a density that runs in straight lines between `density`.
[[nodiscard]] std::vector<double> cumulated_weight(std::span<const double> at, std::span<const double> density);

}  // namespace pulsewright
