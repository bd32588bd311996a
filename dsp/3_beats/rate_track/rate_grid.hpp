/// The rates that a track can take.
#pragma once

#include <cstddef>

namespace pulsewright::beats_stage {

/// 30 to 230 beats/min in steps of 1: a fifteenth of the main lobe of an 8 s window.
inline constexpr double lowest_bpm = 30.0;
inline constexpr double grid_step_bpm = 1.0;
inline constexpr std::size_t grid_size = 201;
/// With rests at the end that mean no rate: a whole number of `SimdLanes`.
inline constexpr std::size_t padded_grid_size = 208;

[[nodiscard]] constexpr double grid_bpm(std::size_t i) { return lowest_bpm + grid_step_bpm * static_cast<double>(i); }

}  // namespace pulsewright::beats_stage
