#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "3_beats/heart_scenes.hpp"
#include "pulsewright/beats.hpp"

namespace {

using namespace pulsewright;
using beat_tests::steady_pulse;

/// Bells a second apart, the first at 0.5 s.
Recording bells(double sigma_s, double rate_hz) {
  Recording recording;
  recording.duration = Seconds{60};
  Channel channel;
  channel.name = "pulse";
  channel.kind = ChannelKind::pulse;
  channel.rate = Hertz{rate_hz};
  const auto size = static_cast<std::size_t>(60 * rate_hz);
  channel.samples.reserve(size);
  for (std::size_t i = 0; i < size; ++i) {
    const double t = static_cast<double>(i) / rate_hz;
    const double z = (t - std::floor(t) - 0.5) / sigma_s;
    channel.samples.push_back(static_cast<float>(std::exp(-0.5 * z * z)));
  }
  recording.channels.push_back(std::move(channel));
  return recording;
}

TEST(PulseFeet, OfABellLieTwoStandardDeviationsBeforeItsPeak) {
  // The tangent at the steepest point, one SD before the peak, is exp(-1/2) high there and rises by exp(-1/2) an SD.
  for (const double rate : {64.0, 125.0, 300.0}) {
    std::size_t feet = 0;
    for (const Beat& beat : find_beats(bells(0.09, rate)).accepted()) {
      if (!beat.foot || beat.time.value() < 5.0 || beat.time.value() > 55.0) continue;
      const double peak = std::floor(beat.time.value()) + 0.5;
      EXPECT_NEAR(beat.foot->value(), peak - 0.18, 0.012) << rate << " Hz, " << peak << " s";
      ++feet;
    }
    EXPECT_GE(feet, 49U) << rate << " Hz";
  }
}

/// Feet of the simulator's wave without noise, by intersecting tangents at 1000 Hz, one for each true peak.
std::vector<double> true_feet(Scenario scene) {
  scene.rate = Hertz{1000};
  scene.pulse->disturbance = {};
  scene.pulse->converter.reset();
  const Simulation simulation = simulate(scene);
  const std::vector<float>& wave = simulation.recording.channels[0].samples;
  std::vector<double> feet;
  for (const TrueBeat& beat : simulation.truth.beats) {
    const auto peak = static_cast<std::size_t>(std::lround(1000.0 * std::max(0.0, beat.pulse_time.value())));
    if (peak < 450 || peak + 1 >= wave.size()) continue;
    const auto* const from = wave.data() + peak - 450;
    const auto* const lowest = std::min_element(from, wave.data() + peak);
    const auto* steepest = lowest;
    for (const auto* p = lowest; p < wave.data() + peak; ++p) {
      if (p[1] - p[0] > steepest[1] - steepest[0]) steepest = p;
    }
    const double height = static_cast<double>(*steepest - *lowest),
                 slope = static_cast<double>(steepest[1] - *steepest);
    feet.push_back(0.001 * (static_cast<double>(steepest - wave.data()) - height / slope));
  }
  return feet;
}

TEST(PulseFeet, OfAHomeBuiltClipAreThoseOfTheWaveWithoutNoise) {
  for (const double bpm : {60.0, 90.0, 130.0}) {
    const Scenario scene = steady_pulse(bpm, 64);
    const std::vector<double> truth = true_feet(scene);
    for (const bool streaming : {false, true}) {
      FindOptions options;
      options.streaming = streaming;
      double sum = 0.0, squares = 0.0, count = 0.0;
      const BeatTrain found = find_beats(simulate(scene).recording, options);
      for (const Beat& beat : found.accepted()) {
        if (!beat.foot) continue;
        EXPECT_LT(*beat.foot, beat.time);
        const auto nearest = std::min_element(truth.begin(), truth.end(), [&](double a, double b) {
          return std::abs(a - beat.foot->value()) < std::abs(b - beat.foot->value());
        });
        const double error = beat.foot->value() - *nearest;
        if (std::abs(error) > 0.15) continue;  // cut off by either end of the recording
        sum += error;
        squares += error * error;
        count += 1.0;
      }
      const double bias = sum / count;
      EXPECT_GT(count, 1.9 * bpm);
      EXPECT_LT(std::abs(bias), 0.025) << bpm << " beats/min" << (streaming ? ", causal" : "");
      EXPECT_LT(std::sqrt(squares / count - bias * bias), 0.008)
          << bpm << " beats/min" << (streaming ? ", causal" : "");
    }
  }
}

TEST(PulseFeet, AreNotToldOfAnElectrocardiogram) {
  const std::vector<Beat> found = find_beats(simulate(beat_tests::steady(75, 250, 20)).recording).accepted();
  EXPECT_GT(found.size(), 50U);
  for (const Beat& beat : found) EXPECT_FALSE(beat.foot);
}

}  // namespace
