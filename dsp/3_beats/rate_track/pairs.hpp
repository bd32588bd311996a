/// A table with a value for each pair of a heart and a stride.
#pragma once

#include <array>
#include <cstddef>

#include "3_beats/lanes.hpp"
#include "rate_grid.hpp"

namespace pulsewright::beats_stage {

/// Slow end and distance of the strides, in strides/min. A stride is two steps, or a turn of the pedals: arms swing with it, and its harmonics are what the sensor sees.
inline constexpr double lowest_stride = 38.0;
inline constexpr double stride_step = 2.0;
inline constexpr std::size_t stride_count = 35;
/// Column 0: no stride. Column c > 0: a stride of `lowest_stride + (c - 1) stride_step`.
inline constexpr std::size_t pair_columns = stride_count + 1;

/// Hearts are told apart in cells of two rates of the grid, with rests at the end up to a whole number of `Lanes`.
inline constexpr std::size_t rates_a_cell = 2;
inline constexpr std::size_t heart_cells = (grid_size + rates_a_cell - 1) / rates_a_cell;
inline constexpr std::size_t padded_cells = padded_grid_size / rates_a_cell;
static_assert(padded_cells % Lanes::count == 0);

/// All columns side by side, as the processor takes them.
inline constexpr std::size_t pair_fours = pair_columns / Lanes::four;
static_assert(pair_columns % Lanes::four == 0);
using PairRow = std::array<Lanes::Four, pair_fours>;

/// A row for each cell of hearts, a column for each stride.
struct Pairs {
  std::array<PairRow, padded_cells> rows;

  void fill(float value) {
    for (PairRow& row : rows) row.fill(Lanes::Four{value, value, value, value});
  }
};

[[nodiscard]] inline float sum_of(Lanes::Four four) { return (four[0] + four[1]) + (four[2] + four[3]); }

[[nodiscard]] inline float sum_of(const PairRow& row) {
  Lanes::Four sum{};
  for (const Lanes::Four& four : row) sum += four;
  return sum_of(sum);
}

}  // namespace pulsewright::beats_stage
