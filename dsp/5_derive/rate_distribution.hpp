/// What the true rate of a window may be, given a count of beats that may be wrong.
#pragma once

#include <vector>

namespace pulsewright {

/// Distribution of a whole number: `probability[k]` is that of `lowest + k`.
class CountError {
 public:
  /// Adds an independent error of `amount` (positive or negative) that happens with probability `p`.
  void add(int amount, double p);

  [[nodiscard]] int lowest() const { return lowest_; }
  [[nodiscard]] const std::vector<double>& probability() const { return probability_; }

 private:
  int lowest_ = 0;
  std::vector<double> probability_{1.0};
};

/// Mixture of normal distributions of the true rate in beats/min.
struct RateDistribution {
  struct Part {
    double weight;
    double mean;
    double sd;
  };
  std::vector<Part> parts;

  /// Probability of a rate of at most `bpm`.
  [[nodiscard]] double cumulative(double bpm) const;
  /// Its derivative, per beat/min.
  [[nodiscard]] double density(double bpm) const;
  /// The rate below which the share `q` lies, to 1e-6 beats/min.
  [[nodiscard]] double quantile(double q) const;
};

/// The true rate when `beats` beats were counted in `seconds` between the first and the last, whose distance is uncertain by `sd_seconds`. Errors
/// that would leave fewer than two beats are dropped and the rest weighted up.
[[nodiscard]] RateDistribution rate_distribution(int beats, double seconds, double sd_seconds, const CountError& error);

}  // namespace pulsewright
