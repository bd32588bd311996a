/// How well each breathing rate of a grid explains the series of one window.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "breathing_modulations.hpp"
#include "pulsewright/spectrum.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright {

/// Windows of one length.
class BreathingEvidence {
 public:
  explicit BreathingEvidence(Seconds window);

  /// The grid of rates, rising, evenly spaced.
  [[nodiscard]] const std::vector<Hertz>& rates() const { return rates_; }

  /// The logarithm of the evidence for each rate, from the window that starts at `start_s`; nothing when no series has eight beats there.
  [[nodiscard]] std::optional<std::vector<double>> of(std::span<const BeatSeries> all, double start_s);

 private:
  /// Adds what one series says; false when it says nothing.
  bool add(const BeatSeries& series, double start_s, std::vector<double>& evidence);

  std::vector<double> grid_;  ///< values of one series, evenly spaced
  PowerSpectrum spectrum_;
  std::size_t first_bin_;
  std::vector<Hertz> rates_;
};

}  // namespace pulsewright
