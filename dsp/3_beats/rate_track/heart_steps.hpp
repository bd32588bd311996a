/// Steps of the heart rate from one window to the next, 2 s later.
#pragma once

#include <span>
#include <vector>

#include "step_kernel.hpp"

namespace pulsewright::beats_stage {

/// Steps are normal or, now and then, wide (a double exponential).
struct StepShape {
  double usual_bpm = 0;   ///< SD
  double wide_bpm = 0;    ///< scale of the double exponential
  double wide_share = 0;  ///< relative height at no step
};

/// Steps between places of a grid: from each, those to the places of the grid sum to 1.
class HeartSteps {
 public:
  /// A row has `places` places `spacing_bpm` apart, and rests up to `padded`.
  HeartSteps(const StepShape& shape, std::size_t places, std::size_t padded, double spacing_bpm);

  /// Probabilities -> those of the next window. `to` may be `from`.
  void forward(std::span<const float> from, std::span<float> to) const;
  /// Likelihood of what follows -> that of the window before. `to` may be `from`.
  void back(std::span<const float> from, std::span<float> to) const;

 private:
  StepKernel kernel_;
  std::vector<float> leaving_;  ///< one over the sum of the steps from a place to those of the grid; 0 for rests
};

}  // namespace pulsewright::beats_stage
