/// A table with a value for each pair of a heart and a stride.
#pragma once

#include <array>
#include <cstddef>

#include "3_beats/simd_lanes.hpp"
#include "rate_grid.hpp"

namespace pulsewright::beats_stage {

/// Slow end and distance of the strides, in strides/min. A stride is two steps, or a turn of the pedals: arms swing with it, and its harmonics are what the sensor sees.
inline constexpr double lowest_stride = 38.0;
inline constexpr double stride_step = 2.0;
inline constexpr std::size_t stride_count = 35;
/// Column 0: no stride. Column c > 0: a stride of `lowest_stride + (c - 1) stride_step`.
inline constexpr std::size_t stride_columns = stride_count + 1;

/// Hearts are told apart in cells of two rates of the grid, with rests at the end up to a whole number of `SimdLanes`.
inline constexpr std::size_t rates_a_cell = 2;
inline constexpr std::size_t heart_cells = (grid_size + rates_a_cell - 1) / rates_a_cell;
inline constexpr std::size_t padded_cells = padded_grid_size / rates_a_cell;
static_assert(padded_cells % SimdLanes::count == 0);

/// All columns side by side, as the processor takes them.
inline constexpr std::size_t stride_fours = stride_columns / SimdLanes::four;
static_assert(stride_columns % SimdLanes::four == 0);
using JointRow = std::array<SimdLanes::Four, stride_fours>;

/// A row for each cell of hearts, a column for each stride.
struct JointStates {
  std::array<JointRow, padded_cells> rows;

  void fill(float value) {
    for (JointRow& row : rows) row.fill(SimdLanes::Four{value, value, value, value});
  }
};

[[nodiscard]] inline float sum_of(SimdLanes::Four four) { return (four[0] + four[1]) + (four[2] + four[3]); }

[[nodiscard]] inline float sum_of(const JointRow& row) {
  SimdLanes::Four sum{};
  for (const SimdLanes::Four& four : row) sum += four;
  return sum_of(sum);
}

}  // namespace pulsewright::beats_stage
