#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <vector>

#include "3_beats/heart_scenes.hpp"
#include "pulsewright/agreement.hpp"
#include "pulsewright/beats.hpp"

namespace {

using namespace pulsewright;

std::vector<Beat> stream(const Recording& recording, ChannelKind kind, std::size_t chunk) {
  BeatStream detector{kind, recording.channels[0].rate};
  const std::span<const float> samples{recording.channels[0].samples};
  std::vector<Beat> beats;
  for (std::size_t at = 0; at < samples.size(); at += chunk) {
    const std::span<const float> piece = samples.subspan(at, std::min(chunk, samples.size() - at));
    detector.push({&piece, 1}, beats);
  }
  detector.finish(beats);
  return beats;
}

void expect_same_beats(const Recording& recording, ChannelKind kind) {
  const std::vector<Beat> whole = stream(recording, kind, recording.channels[0].samples.size());
  ASSERT_GT(whole.size(), 50U);
  for (const std::size_t chunk : {1U, 7U, 97U, 1000U}) {
    const std::vector<Beat> pieces = stream(recording, kind, chunk);
    ASSERT_EQ(pieces.size(), whole.size()) << chunk;
    for (std::size_t i = 0; i < whole.size(); ++i) {
      EXPECT_EQ(pieces[i].time, whole[i].time);
      EXPECT_EQ(pieces[i].sample, whole[i].sample);
      EXPECT_EQ(pieces[i].confidence, whole[i].confidence);
      EXPECT_EQ(pieces[i].verdict, whole[i].verdict);
    }
  }
}

Recording with_gap(Simulation simulation) {
  auto& samples = simulation.recording.channels[0].samples;
  std::fill(samples.begin() + 5000, samples.begin() + 5300, std::numeric_limits<float>::quiet_NaN());
  return std::move(simulation.recording);
}

TEST(BeatStream, GivesTheSameEcgBeatsForChunksOfAnySize) {
  expect_same_beats(with_gap(simulate(beat_tests::steady(80, 200, 15))), ChannelKind::ecg);
}

TEST(BeatStream, GivesTheSamePulseBeatsForChunksOfAnySize) {
  expect_same_beats(with_gap(simulate(beat_tests::steady_pulse(80, 100))), ChannelKind::pulse);
}

TEST(BeatStream, DecidesEachBeatWithinItsLookAheadAndThatIsAtMostOneAndAHalfSeconds) {
  for (const double rate : {100.0, 250.0, 360.0, 1000.0}) {
    const Recording recording = simulate(beat_tests::steady(75, rate, 20)).recording;
    BeatStream detector{ChannelKind::ecg, recording.channels[0].rate};
    EXPECT_LE(detector.look_ahead(), Seconds{1.5});
    const std::span<const float> samples{recording.channels[0].samples};
    std::vector<Beat> beats;
    const std::size_t chunk = 10;
    for (std::size_t at = 0; at + chunk <= samples.size(); at += chunk) {
      const std::size_t before = beats.size();
      const std::span<const float> piece = samples.subspan(at, chunk);
      detector.push({&piece, 1}, beats);
      const Seconds now = time_of(SampleIndex{static_cast<std::int64_t>(at + chunk)}, Hertz{rate});
      for (std::size_t i = before; i < beats.size(); ++i) {
        // 60 ms: the fiducial point lies that near the energy peak that was decided.
        EXPECT_LE(now - beats[i].time, detector.look_ahead() + Seconds{0.06} + period(Hertz{rate}) * 10.0);
      }
    }
  }
}

TEST(BeatStream, FindsTheBeatsOfACleanEcg) {
  const Simulation simulation = simulate(beat_tests::steady(75, 250, 20));
  FindOptions causal;
  causal.streaming = true;
  const BeatAgreement a = match_beats(simulation.truth.ecg_train(Hertz{250}), find_beats(simulation.recording, causal));
  EXPECT_LE(a.false_negatives, 2);  // while it learns
  EXPECT_LE(a.false_positives, 1);
}

TEST(BeatStream, RefusesAWrongNumberOfChannelsAndUnequalLengths) {
  BeatStream detector{ChannelKind::ecg, Hertz{250}, 2};
  const std::vector<float> ten(10), nine(9);
  std::vector<Beat> beats;
  const std::vector<std::span<const float>> one = {ten};
  const std::vector<std::span<const float>> unequal = {ten, nine};
  EXPECT_THROW(detector.push(one, beats), Error);
  EXPECT_THROW(detector.push(unequal, beats), Error);
  EXPECT_THROW((BeatStream{ChannelKind::gyro, Hertz{250}}), Error);
  EXPECT_THROW((BeatStream{ChannelKind::ecg, Hertz{0}}), Error);
}

TEST(BeatStream, RefusesSamplesAfterTheEnd) {
  BeatStream detector{ChannelKind::ecg, Hertz{250}};
  const std::vector<float> ten(10);
  const std::vector<std::span<const float>> chunk = {ten};
  std::vector<Beat> beats;
  detector.push(chunk, beats);
  detector.finish(beats);
  EXPECT_THROW(detector.push(chunk, beats), Error);
  EXPECT_THROW(detector.finish(beats), Error);
}

}  // namespace
