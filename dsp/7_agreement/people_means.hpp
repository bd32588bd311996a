/// What is known of a mean over people, and of how far people's own means lie apart.
#pragma once

#include <span>
#include <vector>

namespace pulsewright {

/// One person's mean and the variance with which it is known.
struct PersonMean {
  double mean = 0, variance = 0;  ///< above 0
};

/// People's true means are normal around the population's with a variance between people, whose
/// prior is 1 / (variance + harmonic mean of the known ones); for equal people and many values this
/// gives the interval of the analysis of variance (Tiao & Tan 1965, Biometrika 52:37). The
/// population's mean is flat.
class PeopleMeans {
 public:
  /// At least two people.
  explicit PeopleMeans(std::span<const PersonMean> people);

  struct Draw {
    double mean = 0;              ///< of the population
    double between_variance = 0;  ///< of people's true means
  };
  /// `between_share` is where in its distribution, from 0 to 1; `deviate` a standard normal one.
  [[nodiscard]] Draw draw(double between_share, double deviate) const;

 private:
  std::vector<double> sds_, cumulated_;  ///< between people
  std::vector<double> means_, errors_;   ///< of the population, given each
};

}  // namespace pulsewright
