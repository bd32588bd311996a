/// What is known of a simulation because it was put in, on the recording's clock.
#pragma once

#include <vector>

#include "beat_times.hpp"
#include "bumps.hpp"
#include "movement.hpp"
#include "pulse_wave.hpp"
#include "sample_times.hpp"

namespace pulsewright::simulation {

/// The courses, phases and movement; no beats or drop-outs yet.
[[nodiscard]] Truth true_course(const Scenario& scenario, const Timeline& timeline, const Movement& movement,
                                const SampleTimes& times);

/// The beats with their peaks on the noiseless waves.
[[nodiscard]] std::vector<TrueBeat> true_beats(const std::vector<Contraction>& contractions,
                                               const std::vector<PulseDue>& due, const BumpWave& ecg,
                                               const BumpWave& pulse, const SampleTimes& times, Seconds duration);

}  // namespace pulsewright::simulation
