/// A heart and a stride as one hidden Markov chain: evidence window by window -> the probability of each rate, given the windows around.
#pragma once

#include <cstddef>
#include <functional>
#include <span>
#include <vector>

#include "paired_evidence.hpp"

namespace pulsewright::beats_stage {

/// The heart goes on as in `RatePath`, whatever the stride does; a stride begins and ends at once, at any rate, and changes little in between.
class PairedPath {
 public:
  PairedPath();

  /// Gives the log-likelihood of every pair in window k.
  using Evidence = std::function<void(std::size_t k, Pairs& log_likelihood)>;
  /// Receives window k, the probabilities of the grid's rates, and the likeliest column of the pairs.
  using Visitor = std::function<void(std::size_t k, std::span<const float> heart, std::size_t column)>;

  /// Given all windows. Visits them from the last to the first. Asks for the evidence of a long recording twice, so as not to keep it.
  void smooth(std::size_t windows, const Evidence& evidence, const Visitor& visit) const;
  /// Given the windows so far. Visits them from the first to the last.
  void follow(std::size_t windows, const Evidence& evidence, const Visitor& visit) const;

 private:
  void likelihood(const Evidence& evidence, std::size_t k, Pairs& likelihood) const;
  /// Probabilities -> those of the next window.
  void step(Pairs& pairs) const;
  /// Likelihood of what follows -> that of the window before.
  void step_back(Pairs& pairs) const;
  void spread_heart(Pairs& pairs) const;

  Pairs prior_;                ///< of a window by itself
  Eigen::ArrayXf usual_step_;  ///< weights of a normal step, from none upwards
  Eigen::ArrayXf leaving_;     ///< one over the sum of the steps from a rate to those of the grid
  Eigen::Matrix<float, static_cast<int>(pair_columns), static_cast<int>(pair_columns)>
      stride_steps_;  ///< row: from, column: to
  Eigen::RowVectorXf first_stride_;
};

}  // namespace pulsewright::beats_stage
