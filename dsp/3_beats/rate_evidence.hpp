/// What the spectra of one window say about the rate.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "motion_removal.hpp"
#include "pulsewright/spectrum.hpp"
#include "rate_grid.hpp"
#include "rate_signals.hpp"

namespace pulsewright::beats_stage {

/// Evidence for each rate of the grid; the best one has 1.
using RateWeights = std::array<float, grid_size>;

struct RateEvidence {
  bool readable = false;  ///< otherwise all weights are 1
  RateWeights weights{};
  std::optional<double> cadence_bpm;
};

/// Looks at one window after the other.
class SpectralView {
 public:
  /// `signals` must outlive this. `causal`: the motion filters are fitted over what lies before the end of the window, else around the window.
  SpectralView(const RateSignals& signals, bool causal);

  /// Evidence from the samples [first, first + window); those that do not exist count as missing.
  [[nodiscard]] RateEvidence at(std::size_t first);

  /// Samples a window.
  [[nodiscard]] std::size_t window() const { return window_; }

 private:
  void power_on_grid(std::span<const float> values, RateWeights& once, RateWeights& twice);
  [[nodiscard]] bool motion_power(std::size_t first, RateWeights& once, RateWeights& twice);

  const RateSignals& signals_;
  bool causal_;
  std::size_t window_;
  std::vector<std::span<const float>> pulse_;
  MotionRemoval removal_;
  PowerSpectrum spectrum_;
  double bins_per_bpm_;
  std::vector<float> stretch_;
};

}  // namespace pulsewright::beats_stage
