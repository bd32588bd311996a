/// Simulated recordings with known beats for the detector tests.
#pragma once

#include <algorithm>

#include "pulsewright/simulate.hpp"

namespace beat_tests {

/// Two minutes at a steady rate, quiet person, one sensor.
inline pulsewright::Scenario steady(double bpm, double sampling_hz, double snr_db, std::uint64_t seed = 7) {
  using namespace pulsewright;
  Scenario scene;
  scene.name = "steady";
  scene.seed = seed;
  scene.rate = Hertz{sampling_hz};
  scene.phases = {{.name = "steady", .duration = Seconds{120}, .target = BeatsPerMinute{bpm}}};
  scene.heart.resting = BeatsPerMinute{std::min(bpm, 190.0)};
  scene.heart.maximum = BeatsPerMinute{std::min(bpm + 60, 250.0)};
  scene.heart.resting_sdnn_ms = bpm > 120 ? 5 : 30;
  EcgSensor sensor;
  sensor.disturbance.snr_db = snr_db;
  scene.ecg = sensor;
  return scene;
}

inline pulsewright::Scenario steady_pulse(double bpm, double sampling_hz, std::uint64_t seed = 7) {
  pulsewright::Scenario scene = steady(bpm, sampling_hz, 30, seed);
  scene.ecg.reset();
  scene.pulse = pulsewright::PulseSensor{};
  return scene;
}

}  // namespace beat_tests
