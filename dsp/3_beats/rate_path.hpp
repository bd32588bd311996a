/// The rate as a hidden Markov chain: evidence window by window -> the probability of each rate, given the windows around.
#pragma once

#include <Eigen/Dense>
#include <functional>
#include <span>
#include <vector>

#include "rate_evidence.hpp"

namespace pulsewright::beats_stage {

/// Steps of the heart rate from one window to the next, 2 s later, are normal or, now and then, wide (a double exponential).
class RatePath {
 public:
  RatePath();

  /// Receives window k and the probabilities of the grid's rates.
  using Visitor = std::function<void(std::size_t, std::span<const float>)>;

  /// Given all windows. Visits them from the last to the first.
  void smooth(std::span<const RateWeights> windows, const Visitor& visit) const;
  /// Given the windows up to `ahead` after each one. Visits them from the first to the last.
  void follow(std::span<const RateWeights> windows, std::size_t ahead, const Visitor& visit) const;

 private:
  [[nodiscard]] Eigen::VectorXf likelihood(const RateWeights& weights) const;
  [[nodiscard]] std::vector<Eigen::VectorXf> likelihoods(std::span<const RateWeights> windows) const;

  Eigen::MatrixXf steps_;       ///< row: from, column: to
  Eigen::MatrixXf steps_back_;  ///< its transpose
  Eigen::ArrayXf prior_;
};

}  // namespace pulsewright::beats_stage
