/// What the spectra of one window say about a heart and a stride at once, where no motion channel tells the one from the other.
#pragma once

#include <Eigen/Core>
#include <array>
#include <cstddef>
#include <span>

#include "anchor_support.hpp"
#include "joint_states.hpp"
#include "pulse_spectra.hpp"
#include "rate_evidence.hpp"

namespace pulsewright::beats_stage {

/// A value for each cell of hearts.
using HeartCells = Eigen::Array<float, static_cast<int>(padded_cells), 1>;

/// Least squares with sinusoids: a heart at h explains the lines at h, 2 h, ..., a stride at s those at s, 2 s, ..., and the heart then gets what the stride has left. The
/// more of the window's energy is explained, the likelier the pair; a stride has to explain more than as many lines of noise would.
class JointEvidence {
 public:
  /// Spectra of one window, one for each channel.
  using Window = std::span<const PulseSpectrum>;

  explicit JointEvidence(const PulseSpectra& spectra);

  /// Whether any channel can be read.
  [[nodiscard]] static bool readable(Window window);
  /// Likelihood of each pair, to a common factor. Without a readable channel, all pairs are as likely.
  void weigh(Window window, JointStates& likelihood) const;
  /// Evidence for each rate in what the stride of a column leaves: the power at it and, less, at twice of it. The best one has 1.
  [[nodiscard]] RateWeights weights(Window window, std::size_t column) const;
  /// Of a rate, with whatever a stride may have in the same places; the mean over channels.
  [[nodiscard]] static RateLines lines(Window window, double bpm);

 private:
  /// What is left of a channel's power without a stride's lines; the share of its energy that these explain is returned.
  float without_stride(const PulseSpectrum& channel, std::size_t column, Lines& left) const;

  float line_width_;
  /// Around a line of a stride, up to a whole number of `SimdLanes`: its lobe, one over the share of a line there that is independent of it, and that times the distance.
  static constexpr std::size_t lobe_lanes = (lobe_width + SimdLanes::count - 1) / SimdLanes::count;
  using AroundLine = std::array<float, lobe_lanes * SimdLanes::count>;
  AroundLine lobe_{}, independent_{}, slope_{};
};

}  // namespace pulsewright::beats_stage
