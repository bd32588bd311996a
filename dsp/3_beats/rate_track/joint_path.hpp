/// A heart and a stride as one hidden Markov chain: evidence window by window -> the probability of each rate, given the windows around.
#pragma once

#include <array>
#include <cstddef>
#include <functional>
#include <span>

#include "joint_states.hpp"
#include "joint_steps.hpp"

namespace pulsewright::beats_stage {

/// The heart goes on as in `RatePath`, whatever the stride does; a stride begins and ends at once, at any rate, and changes little in between.
class JointPath {
 public:
  JointPath();

  /// The likelihood of every pair in window k; the path may change it. Windows are asked for once, from the first to the last. What was given for a stretch of windows has to
  /// stay until the stretch after the next is asked for.
  using Evidence = std::function<JointStates&(std::size_t k)>;
  /// Windows that are visited at a time: 17 minutes.
  static constexpr std::size_t stretch = 512;
  /// Receives window k, the probabilities of the grid's rates, and the likeliest column of the pairs.
  using Visitor = std::function<void(std::size_t k, std::span<const float> heart, std::size_t column)>;

  /// Given all windows before and those of the next minutes. Visits them in stretches, each from its last to its first.
  void smooth(std::size_t windows, const Evidence& evidence, const Visitor& visit) const;
  /// Given the windows so far. Visits them from the first to the last.
  void follow(std::size_t windows, const Evidence& evidence, const Visitor& visit) const;

 private:
  /// Probabilities of the first window, given what it shows.
  void begin(const JointStates& seen, JointStates& begun) const;
  JointStates& look(const Evidence& evidence, std::size_t k) const;

  JointRow first_;                            ///< of each pair in the first window, before it shows anything
  std::array<JointRow, padded_cells> prior_;  ///< of a window by itself: without and with a stride
  JointSteps steps_;
};

}  // namespace pulsewright::beats_stage
