/// A heart and a stride as one hidden Markov chain: evidence window by window -> the probability of each rate, given the windows around.
#pragma once

#include <bitset>
#include <cstddef>
#include <functional>
#include <span>

#include "heart_steps.hpp"
#include "paired_evidence.hpp"

namespace pulsewright::beats_stage {

/// The heart goes on as in `RatePath`, whatever the stride does; a stride begins and ends at once, at any rate, and changes little in between.
class PairedPath {
 public:
  PairedPath();

  /// Gives the likelihood of every pair in window k.
  using Evidence = std::function<void(std::size_t k, Pairs& likelihood)>;
  /// Receives window k, the probabilities of the grid's rates, and the likeliest column of the pairs.
  using Visitor = std::function<void(std::size_t k, std::span<const float> heart, std::size_t column)>;

  /// Given all windows before and those of the next minutes. Visits them in stretches, each from its last to its first; the evidence of a window is asked for once.
  void smooth(std::size_t windows, const Evidence& evidence, const Visitor& visit) const;
  /// Given the windows so far. Visits them from the first to the last.
  void follow(std::size_t windows, const Evidence& evidence, const Visitor& visit) const;

 private:
  /// Probabilities of the first window, given what it shows.
  void begin(const Pairs& seen, Pairs& begun) const;
  /// Probabilities of one window -> those of the next, given what it shows.
  void go_on(const Pairs& past, const Pairs& seen, Pairs& next) const;
  /// Likelihood of what follows a window -> that of what follows the one before, given what this one shows; for the columns that are possible there.
  void go_back(Pairs& ahead, const Pairs& seen, const std::bitset<pair_columns>& possible) const;
  void look(const Evidence& evidence, std::size_t k, Pairs& seen) const;

  Pairs first_;                                                   ///< probabilities of the first window
  Eigen::Array<float, static_cast<int>(padded_cells), 2> prior_;  ///< of a window by itself: without and with a stride
  HeartSteps heart_steps_;
};

}  // namespace pulsewright::beats_stage
