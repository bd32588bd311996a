#include <gtest/gtest.h>

#include <random>

#include "3_beats/heart_scenes.hpp"
#include "pulsewright/beats.hpp"

namespace {

using namespace pulsewright;

/// Two minutes of white, brown or held noise.
Recording noise(ChannelKind kind, double rate_hz, int colour, unsigned seed) {
  std::mt19937 random{seed};
  std::normal_distribution<float> normal;
  Recording recording;
  recording.duration = Seconds{120};
  Channel channel;
  channel.name = kind == ChannelKind::ecg ? "ecg" : "pulse";
  channel.kind = kind;
  channel.rate = Hertz{rate_hz};
  float level = 0;
  for (int i = 0; i < static_cast<int>(120 * rate_hz); ++i) {
    const float v = normal(random);
    level = colour == 0 ? v : colour == 1 ? 0.97F * level + v : i % 6 == 0 ? v : level;
    channel.samples.push_back(level);
  }
  recording.channels.push_back(std::move(channel));
  return recording;
}

double unreadable_s(const BeatTrain& train) {
  double sum = 0;
  for (const Span& span : train.unreadable) sum += span.length().value();
  return sum;
}

TEST(NoiseWithoutAHeart, IsDeclaredUnreadableInBothWavesAndBothForms) {
  for (const ChannelKind kind : {ChannelKind::pulse, ChannelKind::ecg}) {
    double unreadable = 0, all = 0;
    for (int colour = 0; colour < 3; ++colour) {
      for (const bool streaming : {false, true}) {
        // Seeds other than those the confidence was fitted with.
        const Recording recording =
            noise(kind, kind == ChannelKind::ecg ? 250 : 50, colour, 100U + static_cast<unsigned>(colour));
        FindOptions options;
        options.streaming = streaming;
        const BeatTrain train = find_beats(recording, options);
        unreadable += unreadable_s(train);
        all += 120;
        EXPECT_GT(unreadable_s(train), 60.0) << to_string(kind) << " colour " << colour << " streaming " << streaming;
        ASSERT_FALSE(train.warnings.empty());
        EXPECT_EQ(train.warnings.back().code, "no_clear_beats");
      }
    }
    EXPECT_GT(unreadable, 0.9 * all) << to_string(kind);
  }
}

TEST(AQuietHeart, HasNoUnreadableStretch) {
  for (const double bpm : {45.0, 75.0, 160.0}) {
    EXPECT_TRUE(find_beats(simulate(beat_tests::steady(bpm, 250, 20)).recording).unreadable.empty()) << bpm;
    EXPECT_TRUE(find_beats(simulate(beat_tests::steady_pulse(bpm, 100)).recording).unreadable.empty()) << bpm;
  }
}

TEST(AClipTakenOffAndLaidDown, IsUnreadableFromThereOn) {
  Recording recording = simulate(beat_tests::steady_pulse(75, 100)).recording;
  std::mt19937 random{9};
  std::normal_distribution<float> normal;
  std::vector<float>& samples = recording.channels[0].samples;
  for (std::size_t i = 60 * 100; i < samples.size(); ++i) samples[i] = 500.0F + 20.0F * normal(random);
  const BeatTrain train = find_beats(recording);
  for (const Beat& beat : train.accepted()) EXPECT_LT(beat.time.value(), 66.0);
  EXPECT_GT(train.accepted().size(), 65U);
}

}  // namespace
