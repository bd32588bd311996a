#include "step_kernel.hpp"

#include <algorithm>
#include <array>

#include "3_beats/simd_lanes.hpp"
#include "rate_grid.hpp"

namespace pulsewright::beats_stage {

void StepKernel::over(std::span<const float> from, std::span<float> to) const {
  constexpr std::size_t most_reach = 32;
  std::array<float, padded_grid_size + 2 * most_reach> around{};
  std::copy(from.begin(), from.end(), around.begin() + most_reach);
  for (std::size_t i = 0; i < from.size(); i += SimdLanes::count) {
    const float* middle = around.data() + most_reach + i;
    SimdLanes sum = SimdLanes::load(middle) * weights_[0];
    for (std::size_t away = 1; away < weights_.size(); ++away)
      sum += (SimdLanes::load(middle - away) + SimdLanes::load(middle + away)) * weights_[away];
    sum.store(to.data() + i);
  }
}

}  // namespace pulsewright::beats_stage
