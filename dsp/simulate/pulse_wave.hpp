/// Contractions -> the optical pulse as a wave of Gaussian bumps, height 1 for an ordinary pulse, systole up.
///
/// Two Gaussians a beat, after Tang et al. 2020 (Sci Rep 10, s41598-020-69076-x): the systolic wave and, a quarter turn later, the
/// diastolic one, half as high and twice as wide (angles -pi/2 and 0, SD 0.6 and 1.2 rad, heights 0.82 and 0.4 [from memory]). In seconds they are
/// those at 60 beats/min and go with the square root of the interval, as ejection does; the waves of quick beats run together.
#pragma once

#include <vector>

#include "beat_times.hpp"
#include "bumps.hpp"

namespace pulsewright::simulation {

/// About the mean of the wave over time at ordinary rates, which is taken off so that `PulseSensor::level` is the middle.
inline constexpr double mean_height = 0.45;

/// Where a contraction's pulse is due.
struct PulseDue {
  double time = 0;  ///< of the systolic Gaussian's centre, true time
  double height = 0;
};

/// Delays fall with the reserve used and vary by some milliseconds with breathing.
[[nodiscard]] std::vector<PulseDue> pulses_due(const std::vector<Contraction>& contractions, const Timeline& timeline,
                                               const PulseSensor& sensor, std::uint64_t seed);

[[nodiscard]] BumpWave pulse_wave(const std::vector<Contraction>& contractions, const std::vector<PulseDue>& due);

/// Systolic peak: the local maximum near the place where it is due. Not found when too weak to have one.
[[nodiscard]] BumpWave::Peak systolic_peak(const BumpWave& wave, const PulseDue& due, const Contraction& contraction);

}  // namespace pulsewright::simulation
