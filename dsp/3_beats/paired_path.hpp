/// A heart and a stride as one hidden Markov chain: evidence window by window -> the probability of each rate, given the windows around.
#pragma once

#include <array>
#include <cstddef>
#include <functional>
#include <span>

#include "pair_steps.hpp"
#include "pairs.hpp"

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
  void look(const Evidence& evidence, std::size_t k, Pairs& seen) const;

  PairRow first_;                            ///< of each pair in the first window, before it shows anything
  std::array<PairRow, padded_cells> prior_;  ///< of a window by itself: without and with a stride
  PairSteps steps_;
};

}  // namespace pulsewright::beats_stage
