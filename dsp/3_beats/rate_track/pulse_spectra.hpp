/// Spectra of the windows of pulse signals, at each beat/min.
#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "rate_signals.hpp"

namespace pulsewright::beats_stage {

/// Lines of hearts and strides are looked for from here to there, in beats/min.
inline constexpr int lowest_line = 24, highest_line = 420;
/// A value for each beat/min from 0 on; above `highest_line` all are 0, so that twice the fastest rate can be asked for.
inline constexpr int line_places = 480;
using Lines = Eigen::Array<float, line_places, 1>;
/// A line's lobe reaches so far to either side: the window function's is 30 beats/min wide between zeros.
inline constexpr int lobe_reach = 18;
inline constexpr int lobe_width = 2 * lobe_reach + 1;
using Lobe = Eigen::Array<float, lobe_width, 1>;

/// One channel's window.
struct PulseSpectrum {
  Lines real, imaginary;  ///< the middle of the window being the time 0
  Lines power;            ///< in proportion to frequency, because slow motion is strong
  float energy = 0;       ///< what the lines explain together; 0: not readable
};

/// First samples of windows; nothing where a window does not lie inside the signals.
using WindowPlaces = std::vector<std::optional<std::size_t>>;

/// Works out windows' spectra. Nothing changes in it, so that threads may share it.
class PulseSpectra {
 public:
  /// Both must outlive this.
  PulseSpectra(const RateSignals& signals, const WindowPlaces& places);

  [[nodiscard]] std::size_t windows() const { return places_.size(); }
  [[nodiscard]] std::size_t channels() const { return signals_.pulse.size(); }
  /// Fills `spectra` with those of the windows from `first` on: a spectrum for each channel of the first one, then of the next.
  void work_out(std::size_t first, std::span<PulseSpectrum> spectra) const;
  /// The spectrum of the window function around a line, which has 1.
  [[nodiscard]] const Lobe& lobe() const { return lobe_; }
  /// A line's energy over the power at its middle, in steps of 1 beat/min.
  [[nodiscard]] float line_width() const { return line_width_; }

 private:
  void work_out_together(std::size_t first, std::span<PulseSpectrum> spectra) const;
  /// Samples without their mean; false: too many are missing.
  bool read(std::span<const float> pulse, std::size_t first, std::span<float> values) const;

  const RateSignals& signals_;
  const WindowPlaces& places_;
  std::size_t window_;  ///< samples
  std::size_t half_;    ///< that with the one in the middle
  /// A row a beat/min, with the window function. A window is the sum of an even and an odd half.
  Eigen::MatrixXf cosines_, sines_;
  Lobe lobe_;
  float line_width_ = 0;
};

}  // namespace pulsewright::beats_stage
