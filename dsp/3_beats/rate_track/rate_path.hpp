/// The rate as a hidden Markov chain: evidence window by window -> the probability of each rate, given the windows around.
#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <functional>
#include <span>

#include "heart_steps.hpp"
#include "rate_evidence.hpp"

namespace pulsewright::beats_stage {

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
  /// A value for each rate of the grid, and rests that are 0.
  using Row = Eigen::Array<float, static_cast<int>(padded_grid_size), 1>;

  [[nodiscard]] Row likelihood(const RateWeights& window) const;
  /// Probabilities of one window -> those of the next, given what it shows.
  [[nodiscard]] Row next(Row past, const Row& seen) const;
  /// Likelihood of what follows a window -> that of what follows the window before, given what this one shows.
  [[nodiscard]] Row before(const Row& ahead, const Row& seen) const;

  HeartSteps steps_;
  Row prior_;
};

}  // namespace pulsewright::beats_stage
