/// A row of rates, each spread over its neighbours.
#pragma once

#include <span>
#include <vector>

namespace pulsewright::beats_stage {

/// Sums over the neighbours of each place, the same weights upwards and downwards; what lies outside of the row is 0.
class StepKernel {
 public:
  /// `weights`: of the place itself, of those beside it, and so on outwards; at most 33.
  explicit StepKernel(std::vector<float> weights) : weights_(std::move(weights)) {}

  /// Rows are a whole number of `SimdLanes` long, at most `padded_grid_size`. `to` may be `from`.
  void over(std::span<const float> from, std::span<float> to) const;

 private:
  std::vector<float> weights_;
};

}  // namespace pulsewright::beats_stage
