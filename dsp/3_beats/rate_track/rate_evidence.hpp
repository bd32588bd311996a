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
  /// What the motion channels do in one window.
  struct Motion {
    bool any = false;
    RateWeights once{}, twice{};  ///< amplitude at each rate and at twice of it, over that of the strongest line
    float rhythm = 0;             ///< share of the power in the strongest line
  };

  void power_on_grid(std::span<const float> values, RateWeights& once, RateWeights& twice);
  [[nodiscard]] Motion motion_at(std::size_t first);
  void fit_removal(std::size_t first);
  /// Into `stretch_`; false: too much of it is missing.
  [[nodiscard]] bool read_pulse(std::size_t channel, std::size_t first);
  /// Evidence in the stretch where the motion is weak; false: there is no signal.
  [[nodiscard]] bool add_weighted(const Motion& motion, RateWeights& sum);
  /// Evidence in the stretch from which the motion was filtered.
  void add_filtered(const Motion& motion, RateWeights& sum);

  const RateSignals& signals_;
  bool causal_;
  std::size_t window_;
  std::vector<std::span<const float>> pulse_;
  MotionRemoval removal_;
  PowerSpectrum spectrum_;
  double bins_per_bpm_;
  std::vector<float> stretch_;
  RateWeights slow_doubt_{};
};

}  // namespace pulsewright::beats_stage
