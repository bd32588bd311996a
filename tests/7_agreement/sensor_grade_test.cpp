/// Grades of simulated sensors whose faults are known.
#include "pulsewright/sensor_grade.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "pulsewright/error.hpp"
#include "pulsewright/simulate.hpp"

namespace pulsewright {
namespace {

/// Samples of a function of time as one channel.
template <class Function>
Recording recording_of(ChannelKind kind, double rate, double seconds, const Function& f) {
  Recording recording;
  Channel channel;
  channel.name = "x";
  channel.unit = "mV";
  channel.kind = kind;
  channel.rate = Hertz{rate};
  for (int i = 0; i < static_cast<int>(rate * seconds); ++i) channel.samples.push_back(static_cast<float>(f(i / rate)));
  recording.duration = Seconds{seconds};
  recording.channels.push_back(std::move(channel));
  return recording;
}

ChannelGrade grade_of(const Recording& recording, const GradeOptions& options = {}) {
  return grade_sensor(recording, options).channels.front();
}

TEST(Grade, TellsWhiteNoiseAndEffectiveBits) {
  std::mt19937_64 bits(1);
  std::normal_distribution<double> normal;
  const auto recording = recording_of(ChannelKind::other, 250, 120, [&](double t) {
    return 1.0 * std::sin(2 * std::numbers::pi * 1.1 * t) + 0.01 * normal(bits);
  });
  const ChannelGrade grade = grade_of(recording, {.full_scale = 4.096});
  EXPECT_NEAR(*grade.noise_rms, 0.01, 0.0005);
  EXPECT_NEAR(*grade.effective_bits, std::log2(4.096 / (0.01 * std::sqrt(12.0))), 0.1);
}

TEST(Grade, OfAnIdealConverterFindsItsBits) {
  // Steps of 4 / 1024, busy enough that rounding is white: noise step / sqrt 12, so the effective bits are those of the converter.
  std::mt19937_64 bits(2);
  std::normal_distribution<double> normal;
  const double step = 4.0 / 1024;
  const auto recording = recording_of(ChannelKind::other, 250, 120, [&](double t) {
    const double v = 1.5 * std::sin(2 * std::numbers::pi * 3.3 * t) + 0.5 * std::sin(2 * std::numbers::pi * 7.7 * t);
    return step * std::round(v / step);
  });
  const ChannelGrade grade = grade_of(recording, {.full_scale = 4.0});
  EXPECT_NEAR(*grade.step, step, 1e-6);
  EXPECT_NEAR(*grade.effective_bits, 10.0, 0.5);
}

TEST(Grade, FindsHumAndWhereSamplingFoldsIt) {
  std::mt19937_64 bits(3);
  std::normal_distribution<double> normal;
  const auto with_hum = [&](double rate, double mains, double amplitude) {
    return grade_of(recording_of(ChannelKind::pulse, rate, 60, [&](double t) {
      return std::sin(2 * std::numbers::pi * 1.2 * t) + amplitude * std::sin(2 * std::numbers::pi * mains * t) +
             0.01 * normal(bits);
    }));
  };
  const ChannelGrade fast = with_hum(250, 50, 0.1);
  ASSERT_TRUE(fast.hum);
  EXPECT_EQ(fast.hum->mains.value(), 50);
  EXPECT_NEAR(fast.hum->rms, 0.1 / std::sqrt(2.0), 0.005);
  const ChannelGrade slow = with_hum(64, 50, 0.1);  // 64 - 50 = 14 Hz
  ASSERT_TRUE(slow.hum);
  EXPECT_NEAR(slow.hum->seen_at.value(), 14, 1e-9);
  EXPECT_EQ(with_hum(360, 60, 0.1).hum->mains.value(), 60);
  EXPECT_FALSE(with_hum(250, 50, 0.0).hum);
}

TEST(Grade, CountsClippedAndLostSamples) {
  auto recording = recording_of(ChannelKind::other, 100, 40, [](double t) {
    return std::clamp(1.2 * std::sin(2 * std::numbers::pi * t), -1.0, 1.0);
  });
  // |sin| above 1 / 1.2 for a share of 1 - 2 asin(1 / 1.2) / pi of the time.
  const double share = 100 * (1 - 2 * std::asin(1 / 1.2) / std::numbers::pi);
  EXPECT_NEAR(*grade_of(recording).clipped_percent, share, 3);
  for (std::size_t i = 1000; i < 1050; ++i) recording.channels[0].samples[i] = NAN;
  const ChannelGrade grade = grade_of(recording);
  EXPECT_EQ(grade.lost, 50);
  EXPECT_NEAR(grade.longest_gap.value(), 0.5, 1e-9);
  EXPECT_NEAR(*grade.lost_percent, 100.0 * 50 / 4000, 1e-9);
}

TEST(Grade, MeasuresJitterOfStatedMomentsAndCountsWhatIsMissingBetween) {
  Recording recording = recording_of(ChannelKind::other, 100, 60, [](double t) { return std::sin(t); });
  Channel& channel = recording.channels[0];
  std::mt19937_64 bits(4);
  std::normal_distribution<double> normal;
  for (std::size_t i = 0; i < channel.samples.size(); ++i)
    channel.times.push_back(static_cast<double>(i) * 0.01 + 0.001 * std::clamp(normal(bits), -3.0, 3.0));
  channel.samples.erase(channel.samples.begin() + 2000, channel.samples.begin() + 2007);
  channel.times.erase(channel.times.begin() + 2000, channel.times.begin() + 2007);
  const ChannelGrade grade = grade_of(recording);
  EXPECT_NEAR(*grade.jitter_ms, 1.0, 0.05);
  EXPECT_EQ(grade.lost, 7);
  EXPECT_NEAR(grade.longest_gap.value(), 0.07, 0.005);
  const auto even = grade_of(recording_of(ChannelKind::other, 100, 60, [](double t) { return std::sin(t); }));
  EXPECT_FALSE(even.jitter_ms);
}

TEST(Grade, TellsPerfusionOfAClipAndNoneWithoutSteadyLight) {
  Scenario scene = stretched(named_scenario("rest", "wren"), Seconds{60});
  scene.ecg.reset();
  scene.motion.reset();
  scene.pulse->level = 512;
  scene.pulse->amplitude = 51.2;
  scene.pulse->breathing_depth = 0;
  scene.pulse->disturbance = {};
  const ChannelGrade grade = grade_of(simulate(scene).recording);
  ASSERT_TRUE(grade.perfusion_percent);
  EXPECT_NEAR(*grade.perfusion_percent, 10,
              2);  // 51.2 of 512; the high-pass that removes the baseline lifts the wave by some
  EXPECT_NEAR(*grade.readable_percent, 100, 3);
  Recording coupled = simulate(scene).recording;
  for (float& v : coupled.channels[0].samples) v -= 512;
  const ChannelGrade without = grade_of(coupled);
  EXPECT_FALSE(without.perfusion_percent);
}

TEST(Grade, OfNothingExplainsEveryAbsentValue) {
  const auto empty = recording_of(ChannelKind::pulse, 100, 20, [](double) { return std::nan(""); });
  const ChannelGrade grade = grade_of(empty);
  EXPECT_FALSE(grade.noise_rms);
  EXPECT_NEAR(*grade.lost_percent, 100, 1e-9);
  for (const char* key : {"noise_rms", "effective_bits", "readable_percent", "step"})
    EXPECT_TRUE(std::any_of(grade.reasons.begin(), grade.reasons.end(), [&](const Reason& r) {
      return r.measure == key;
    })) << key;
}

TEST(NeededRates, FollowFromTheirFormulas) {
  const auto needed = needed_rates(Hertz{100});
  ASSERT_EQ(needed.size(), 3U);
  EXPECT_NEAR(needed[0].needed.value(), 22.5, 1e-9);  // 180 / (8 x 1)
  EXPECT_TRUE(needed[0].met);
  EXPECT_NEAR(needed[1].needed.value(), 540, 1e-9);  // 180^2 / 60
  EXPECT_FALSE(needed[1].met);
  EXPECT_NEAR(needed[2].needed.value(), 1 / (0.020 * std::sqrt(2 * (1.02 * 1.02 - 1))), 1e-9);
  EXPECT_THROW(static_cast<void>(needed_rates(Hertz{100}, {.rmssd_ms = 0})), Error);
}

TEST(NeededRates, RmssdGrowsAsMuchAsTheRuleSaysWhenBeatsFallOnSamples) {
  // Independent intervals with an RMSSD of 20 ms, beats rounded to the needed rate.
  const double rate = needed_rates(Hertz{100})[2].needed.value();
  std::mt19937_64 bits(6);
  std::normal_distribution<double> normal;
  double time = 0, last_true = 0, last_seen = 0, true_squares = 0, seen_squares = 0, seen_time = 0;
  constexpr int beats = 200000;
  for (int i = 0; i < beats; ++i) {
    const double interval = 0.8 + 0.020 / std::sqrt(2.0) * normal(bits);
    time += interval;
    const double seen = std::round(time * rate) / rate, seen_interval = seen - seen_time;
    if (i > 1) {
      true_squares += (interval - last_true) * (interval - last_true);
      seen_squares += (seen_interval - last_seen) * (seen_interval - last_seen);
    }
    last_true = interval;
    last_seen = seen_interval;
    seen_time = seen;
  }
  EXPECT_NEAR(std::sqrt(seen_squares / true_squares), 1.02, 0.002);
}

}  // namespace
}  // namespace pulsewright
