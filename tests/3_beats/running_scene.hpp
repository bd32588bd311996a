/// A wrist in motion, written out: a pulse of known rate, steps of known cadence that reach the sensor through a short filter, and the accelerometer's view of them.
#pragma once

#include <cmath>
#include <functional>
#include <numbers>
#include <random>

#include "pulsewright/recording.hpp"

namespace beat_tests {

/// A rate in beats/min at a time in seconds.
using Course = std::function<double(double)>;

inline Course steady_course(double bpm) {
  return [bpm](double) { return bpm; };
}

struct RunningScene {
  Course heart = steady_course(140);
  Course cadence = steady_course(165);
  double motion_gain = 3.0;  ///< amplitude of the steps in the pulse signal over that of the pulse
  double noise = 0.1;        ///< SD over the amplitude of the pulse
  double rate_hz = 125;
  double seconds = 120;
  unsigned seed = 1;
};

/// Channels `pulse`, `acc_x`, `acc_y`, `acc_z`.
inline pulsewright::Recording running(const RunningScene& scene) {
  using namespace pulsewright;
  std::mt19937 random{scene.seed};
  std::normal_distribution<double> normal;
  Recording recording;
  recording.duration = Seconds{scene.seconds};
  const char* const names[] = {"pulse", "acc_x", "acc_y", "acc_z"};
  for (const char* name : names) {
    Channel channel;
    channel.name = name;
    channel.kind = recording.channels.empty() ? ChannelKind::pulse : ChannelKind::acceleration;
    channel.rate = Hertz{scene.rate_hz};
    recording.channels.push_back(channel);
  }
  double heart = 0.0, step = 0.0;
  const auto count = static_cast<std::size_t>(std::lround(scene.seconds * scene.rate_hz));
  for (std::size_t i = 0; i < count; ++i) {
    const double t = static_cast<double>(i) / scene.rate_hz;
    heart += 2.0 * std::numbers::pi * scene.heart(t) / 60.0 / scene.rate_hz;
    step += 2.0 * std::numbers::pi * scene.cadence(t) / 60.0 / scene.rate_hz;
    const double pulse = std::sin(heart) + 0.4 * std::sin(2.0 * heart - 0.6);
    // Steps as the sensor sees them, late and with other weights than the accelerometer's axes.
    const double seen = std::sin(step - 0.7) + 0.5 * std::sin(2.0 * step - 1.1) + 0.3 * std::sin(0.5 * step - 0.2);
    const double samples[] = {pulse + scene.motion_gain * seen + scene.noise * normal(random),
                              std::sin(step) + 0.02 * normal(random),
                              0.6 * std::sin(2.0 * step + 0.3) + 0.2 * std::sin(step) + 0.02 * normal(random),
                              0.4 * std::sin(0.5 * step) + 0.02 * normal(random)};
    for (std::size_t k = 0; k < 4; ++k) recording.channels[k].samples.push_back(static_cast<float>(samples[k]));
  }
  return recording;
}

}  // namespace beat_tests
