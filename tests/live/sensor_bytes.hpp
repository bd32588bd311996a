/// What a simulated finger clip sends over its wire, and what may go wrong on the way.
#pragma once

#include <cmath>
#include <cstdint>
#include <random>
#include <string>
#include <vector>

#include "pulsewright/simulate.hpp"
#include "pulsewright/wire.hpp"

#include "3_beats/heart_scenes.hpp"

namespace live_tests {

using namespace pulsewright;

struct SentSample {
  std::uint32_t sequence = 0;
  std::uint64_t time_us = 0;
  int value = 0;
};

/// A pulse at a steady rate, as a converter of 16 bits shows it.
inline std::vector<SentSample> sent_pulse(double bpm, double rate, double seconds) {
  Scenario scene = beat_tests::steady_pulse(bpm, rate);
  scene.phases[0].duration = Seconds{seconds};
  const Recording recording = simulate(scene).recording;
  std::vector<SentSample> sent;
  for (std::size_t i = 0; i < recording.channels[0].samples.size(); ++i) {
    const float value = recording.channels[0].samples[i];
    sent.push_back({static_cast<std::uint32_t>(i),
                    static_cast<std::uint64_t>(std::llround(1e6 * static_cast<double>(i) / rate)),
                    static_cast<int>(std::lround(100.0F * value))});
  }
  return sent;
}

inline std::string line_of(const SentSample& s) {
  return "seq=" + std::to_string(s.sequence) + ",t_us=" + std::to_string(s.time_us % (std::uint64_t{1} << 32)) +
         ",v=" + std::to_string(s.value) + "\n";
}

inline std::string frame_bytes(const SentSample& s) {
  const auto frame = frame_of(s.sequence, static_cast<std::uint32_t>(s.time_us), s.value);
  return {frame.begin(), frame.end()};
}

inline std::string lines_of(const std::vector<SentSample>& sent) {
  std::string text;
  for (const SentSample& s : sent) text += line_of(s);
  return text;
}

}  // namespace live_tests
