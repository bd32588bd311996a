/// Breathing rate from beats.
#include "pulsewright/breathing.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "pulsewright/pipeline.hpp"
#include "pulsewright/simulate.hpp"

namespace pulsewright {
namespace {

/// Beats about every 0.8 s whose intervals swing with breathing.
BeatTrain breathing_beats(double breaths_per_min, double duration_s, double depth_s = 0.03) {
  BeatTrain train;
  train.duration = Seconds{duration_s};
  for (double t = 0.4; t < duration_s;) {
    Beat beat;
    beat.time = Seconds{t};
    beat.confidence = 1;
    train.candidates.push_back(beat);
    t += 0.8 + depth_s * std::sin(2 * std::numbers::pi * breaths_per_min / 60 * t);
  }
  return train;
}

/// A channel whose waves, one a beat, grow and rise with breathing.
Channel swinging_channel(const BeatTrain& train, double breaths_per_min, double height, double level) {
  Channel channel;
  channel.rate = Hertz{50};
  channel.samples.resize(static_cast<std::size_t>(train.duration.value() * 50));
  for (std::size_t i = 0; i < channel.samples.size(); ++i) {
    const double t = static_cast<double>(i) / 50, swing = std::sin(2 * std::numbers::pi * breaths_per_min / 60 * t);
    double wave = 0;
    for (const Beat& beat : train.candidates) {
      const double away = t - beat.time.value();
      if (std::abs(away) < 1) wave += std::exp(-0.5 * away * away / (0.06 * 0.06));
    }
    channel.samples[i] = static_cast<float>((1 + height * swing) * wave + level * swing);
  }
  return channel;
}

TEST(Breathing, IsReadFromTheIntervalsAlone) {
  for (const double breaths : {6.0, 12.0, 18.3, 24.0}) {
    const BreathingSeries series = breathing_rate(breathing_beats(breaths, 180), {});
    ASSERT_EQ(series.windows.size(), 38U);
    ASSERT_EQ(series.warnings.size(), 1U);
    for (const BreathingWindow& window : series.windows) {
      ASSERT_TRUE(window.rate) << breaths;
      EXPECT_NEAR(60 * window.rate->value(), breaths, 0.4);
      EXPECT_LE(60 * window.low->value(), breaths + 0.2);
      EXPECT_GE(60 * window.high->value(), breaths - 0.2);
    }
  }
}

TEST(Breathing, IsReadFromTheWavesWhereIntervalsDoNotShowIt) {
  const BeatTrain train = breathing_beats(0, 120);
  for (const auto& [height, level] : {std::pair{0.2, 0.0}, std::pair{0.0, 0.3}}) {
    const Channel channel = swinging_channel(train, 15, height, level);
    const Channel* channels[] = {&channel};
    const BreathingSeries series = breathing_rate(train, channels);
    EXPECT_TRUE(series.warnings.empty());
    std::size_t answered = 0;
    for (const BreathingWindow& window : series.windows) {
      if (!window.rate) continue;
      ++answered;
      EXPECT_NEAR(60 * window.rate->value(), 15, 0.5);
    }
    EXPECT_GE(3 * answered, 2 * series.windows.size()) << height << " " << level;  // the ends have fewer neighbours
  }
}

TEST(Breathing, HasNoRateWhereNothingSwings) {
  for (const BreathingWindow& window : breathing_rate(breathing_beats(0, 120), {}).windows) EXPECT_FALSE(window.rate);
  BeatTrain few = breathing_beats(12, 120);
  few.candidates.resize(5);
  for (const BreathingWindow& window : breathing_rate(few, {}).windows) EXPECT_FALSE(window.rate);
  EXPECT_TRUE(breathing_rate(breathing_beats(12, 20), {}).windows.empty());
  EXPECT_TRUE(breathing_rate(BeatTrain{}, {}).windows.empty());
}

TEST(Breathing, OfASimulatedPersonAtRestIsThatOfTheSimulation) {
  Scenario scenario = named_scenario("rest", "wren");
  scenario.heart.resting_breaths = Hertz{0.22};
  const Simulation simulation = simulate(scenario);
  const ChosenSignals chosen = choose_signals(simulation.recording);
  const Channel* channels[] = {&simulation.recording.channels[chosen.channels.front()]};
  int answered = 0;
  for (const BreathingWindow& window : breathing_rate(find_beats(simulation.recording, chosen, {}), channels).windows) {
    if (!window.rate) continue;
    ++answered;
    EXPECT_NEAR(60 * window.rate->value(), 13.2, 1.5);
  }
  EXPECT_GE(answered, 30);
}

TEST(Breathing, RefusesWindowsThatAreNone) {
  BreathingOptions options;
  options.window = Seconds{0};
  EXPECT_THROW((void)breathing_rate(breathing_beats(12, 60), {}, options), Error);
  options = {};
  options.step = Seconds{-1};
  EXPECT_THROW((void)breathing_rate(breathing_beats(12, 60), {}, options), Error);
}

}  // namespace
}  // namespace pulsewright
