/// Steps of a heart and a stride from one window to the next, 2 s later.
#pragma once

#include <array>

#include "joint_states.hpp"

namespace pulsewright::beats_stage {

/// The heart goes on by small steps, now and then a wide one, whatever the stride does; a stride begins and ends at once, at any rate, and changes little in between.
class JointSteps {
 public:
  JointSteps();

  /// Probabilities -> those of the next window, to a factor, given what it shows. The sums of their columns are returned.
  JointRow forward(const JointStates& past, const JointStates& seen, JointStates& next) const;
  /// Likelihood of what follows a window -> that of what follows the one before, to a factor, given what this one shows. The sums of its columns are returned.
  JointRow back(const JointStates& seen, JointStates& ahead) const;

 private:
  std::array<float, padded_cells> heart_leaving_{};  ///< one over the sum of a heart's steps to cells; 0 for rests
  JointRow stride_leaving_{};                        ///< the same of strides; 0 for none
};

}  // namespace pulsewright::beats_stage
