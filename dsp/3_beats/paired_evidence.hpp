/// What the spectra of one window say about a heart and a stride at once, where no motion channel tells the one from the other.
#pragma once

#include <Eigen/Dense>
#include <bitset>
#include <cstddef>

#include "heart_support.hpp"
#include "lanes.hpp"
#include "pulse_spectra.hpp"
#include "rate_evidence.hpp"

namespace pulsewright::beats_stage {

/// Slow end and distance of the strides, in strides/min. A stride is two steps, or a turn of the pedals: arms swing with it, and its harmonics are what the sensor sees.
inline constexpr double lowest_stride = 38.0;
inline constexpr double stride_step = 2.0;
inline constexpr std::size_t stride_count = 35;
/// Column 0 of a table of pairs: no stride. Column c > 0: a stride of `lowest_stride + (c - 1) stride_step`.
inline constexpr std::size_t pair_columns = stride_count + 1;

/// Hearts are told apart in cells of two rates of the grid, with rests at the end up to a whole number of `Lanes`.
inline constexpr std::size_t rates_a_cell = 2;
inline constexpr std::size_t heart_cells = (grid_size + rates_a_cell - 1) / rates_a_cell;
inline constexpr std::size_t padded_cells = padded_grid_size / rates_a_cell;
static_assert(padded_cells % Lanes::count == 0);

/// A value for each cell of hearts.
using HeartCells = Eigen::Array<float, static_cast<int>(padded_cells), 1>;

/// A row for each cell of hearts, a column for each stride.
struct Pairs {
  Eigen::Array<float, static_cast<int>(padded_cells), static_cast<int>(pair_columns)> values;
  std::bitset<pair_columns> possible;  ///< columns that are looked at; the others mean 0, whatever they hold
};

/// Least squares with sinusoids: a heart at h explains the lines at h, 2 h, ..., a stride at s those at s, 2 s, ..., and the heart then gets what the stride has left. The
/// more of the window's energy is explained, the likelier the pair; a stride has to explain more than as many lines of noise would.
class PairedView {
 public:
  /// `spectra` must outlive this.
  explicit PairedView(PulseSpectra& spectra);

  /// Whether any channel can be read in a window.
  [[nodiscard]] bool readable(std::size_t window);
  /// Likelihood of each pair, to a common factor. Without a readable channel, all pairs are as likely.
  void weigh(std::size_t window, Pairs& likelihood);
  /// Evidence for each rate in what the stride of a column leaves: the power at it and, less, at twice of it. The best one has 1.
  [[nodiscard]] RateWeights weights(std::size_t window, std::size_t column);
  /// Of a rate, with whatever a stride may have in the same places; the mean over channels.
  [[nodiscard]] RateLines lines(std::size_t window, double bpm);

 private:
  /// What is left of a channel's power without a stride's lines; the share of its energy that these explain is returned.
  float without_stride(const PulseSpectrum& channel, std::size_t column, Lines& left) const;

  PulseSpectra& spectra_;
  Lobe independent_;  ///< one over the share of a line there that is independent of a stride's line
};

}  // namespace pulsewright::beats_stage
