/// What a linear filter of the motion channels explains, taken out of pulse signals.
#pragma once

#include <Eigen/Core>
#include <span>
#include <vector>

#include "pulsewright/units.hpp"

namespace pulsewright::beats_stage {

/// The pulse sensor sees the movement a little before or after the motion sensor, through tissue that swings: the filter reaches this far to either side.
inline constexpr Seconds motion_filter_reach{0.32};

/// Least squares over a stretch: each pulse sample against the motion samples around it, `taps` to either side and channel. A small ridge keeps channels that say the
/// same, and channels that are still, harmless.
///
/// The normal matrix of shifted copies has shifted copies of its own entries: one row and one column a pair of channels are summed, the others follow along the
/// diagonals with what enters and leaves at the ends of the stretch.
class MotionRemoval {
 public:
  /// Motion signals of equal length, finite. They must outlive this.
  MotionRemoval(std::vector<std::span<const float>> motion, Hertz rate);

  [[nodiscard]] bool active() const { return !motion_.empty(); }

  /// Fits the filters of all pulse signals over samples [first, last); NaN in a pulse signal counts as 0.
  void fit(std::span<const std::span<const float>> pulse, std::size_t first, std::size_t last);

  /// Pulse samples [first, first + out.size()) less what the filter fitted for signal `k` makes of the motion.
  void remove(std::span<const float> pulse, std::size_t k, std::size_t first, std::span<float> out) const;

 private:
  [[nodiscard]] double moved(std::size_t channel, std::ptrdiff_t at) const;
  void fill_normal_matrix(std::size_t first, std::size_t last);

  std::vector<std::vector<float>> motion_;  ///< with zeros before and after
  std::size_t reach_;                       ///< taps to either side
  std::size_t taps_;
  Eigen::MatrixXd normal_;   ///< upper triangle
  Eigen::MatrixXd filters_;  ///< a column a pulse signal
};

}  // namespace pulsewright::beats_stage
