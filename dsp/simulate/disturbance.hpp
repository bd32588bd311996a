/// What adds to a clean channel: white noise, muscle, mains hum, baseline wander.
#pragma once

#include <vector>

#include "pulsewright/simulate.hpp"
#include "random.hpp"
#include "sample_times.hpp"
#include "timeline.hpp"

namespace pulsewright::simulation {

/// The sum of the four at the sample times, scaled to `snr_db` against the variance of `clean` where that is asked. Nothing is added when the
/// clean signal has no variance.
[[nodiscard]] std::vector<double> disturbance(const Disturbance& options, const std::vector<double>& clean,
                                              const SampleTimes& times, const Timeline& timeline, Hertz rate,
                                              Random random);

}  // namespace pulsewright::simulation
