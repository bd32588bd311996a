/// What the spectra of one window say about a heart and a stride at once, where no motion channel tells the one from the other.
#pragma once

#include <Eigen/Dense>
#include <cstddef>
#include <span>
#include <vector>

#include "rate_evidence.hpp"
#include "rate_signals.hpp"

namespace pulsewright::beats_stage {

/// Slow end and distance of the strides, in strides/min. A stride is two steps, or a turn of the pedals: arms swing with it, and its harmonics are what the sensor sees.
inline constexpr double lowest_stride = 38.0;
inline constexpr double stride_step = 2.0;
inline constexpr std::size_t stride_count =
    35;  // with no stride a multiple of four, so that rows are worked on without rests
/// Column 0 of a table of pairs: no stride. Column c > 0: a stride of `lowest_stride + (c - 1) stride_step`.
inline constexpr std::size_t pair_columns = stride_count + 1;

/// A row for each rate of the grid, a column for each stride.
using Pairs = Eigen::Array<float, static_cast<int>(grid_size), static_cast<int>(pair_columns), Eigen::RowMajor>;

/// Least squares with sinusoids: a heart at h explains the lines at h, 2 h, ..., a stride at s those at s, 2 s, ..., and the heart then gets what the stride has left. The
/// more of the window's energy is explained, the likelier the pair; a stride has to explain more than as many lines of noise would.
class PairedView {
 public:
  /// `signals` must outlive this.
  explicit PairedView(const RateSignals& signals);

  /// Looks at the samples [first, first + window); those that do not exist count as missing. Without a readable channel, all pairs are as likely.
  void look(std::size_t first);
  [[nodiscard]] bool readable() const { return !channels_.empty(); }
  /// Log-likelihood of each pair.
  void weigh(Pairs& log_likelihood);
  /// Evidence for each rate in what the stride of a column leaves: the power at it and, less, at twice of it. The best one has 1.
  [[nodiscard]] RateWeights weights(std::size_t column) const;

  /// Samples a window.
  [[nodiscard]] std::size_t window() const { return window_; }

 private:
  /// Power at each beat/min.
  using Power = Eigen::ArrayXf;
  /// One channel's window.
  struct Spectrum {
    Eigen::ArrayXf real, imaginary;  ///< at each beat/min, the middle of the window being the time 0
    Power power;
    float energy = 0;
  };

  /// What is left of a channel's power without a stride's lines; the share of its energy that these explain is returned.
  float without_stride(const Spectrum& channel, std::size_t column, Power& left) const;

  const RateSignals& signals_;
  std::size_t window_;
  Eigen::MatrixXf cosines_, sines_;  ///< a row a beat/min, with the window function
  Eigen::ArrayXf lobe_;              ///< the spectrum of the window function, from its middle outwards
  float line_width_ = 0;             ///< a line's energy over the power at its middle, in steps of 1 beat/min
  std::vector<Spectrum> channels_;   ///< those that are readable
};

}  // namespace pulsewright::beats_stage
