#include <gtest/gtest.h>

#include "3_beats/heart_scenes.hpp"
#include "pulsewright/agreement.hpp"
#include "pulsewright/beats.hpp"

namespace {

using namespace pulsewright;

Recording both_waves() {
  Scenario scene = beat_tests::steady(75, 125, 20);
  scene.pulse = PulseSensor{};
  return simulate(scene).recording;
}

TEST(FindBeats, PrefersEcgChannelsWhenNothingIsAsked) { EXPECT_EQ(find_beats(both_waves()).source, BeatSource::ecg); }

TEST(FindBeats, NeverReadsAnEcgChannelWhenAskedForThePulse) {
  FindOptions options;
  options.kind = KindChoice::pulse;
  Recording recording = both_waves();
  const BeatTrain with = find_beats(recording, options);
  EXPECT_EQ(with.source, BeatSource::pulse);
  // Spoiling the ECG changes nothing.
  for (float& v : recording.channels[0].samples) v = 0;
  const BeatTrain without = find_beats(recording, options);
  ASSERT_EQ(with.times().size(), without.times().size());
  EXPECT_EQ(with.times(), without.times());
}

TEST(FindBeats, SaysWhichChannelsThereAreWhenTheAskedKindIsMissing) {
  Recording recording = both_waves();
  recording.channels.erase(recording.channels.begin());
  recording.provenance.input = "clip.csv";
  FindOptions options;
  options.kind = KindChoice::ecg;
  try {
    static_cast<void>(find_beats(recording, options));
    FAIL() << "expected an error";
  } catch (const Error& error) {
    EXPECT_EQ(error.code(), ErrorCode::usage);
    const std::string message = error.what();
    EXPECT_NE(message.find("clip.csv"), std::string::npos) << message;
    EXPECT_NE(message.find("pulse"), std::string::npos) << message;
  }
}

TEST(FindBeats, RefusesAChannelThatDoesNotExistOrIsOfAnotherKind) {
  FindOptions options;
  options.channels = {9};
  EXPECT_THROW(static_cast<void>(find_beats(both_waves(), options)), Error);
  options.channels = {0};
  options.kind = KindChoice::pulse;
  EXPECT_THROW(static_cast<void>(find_beats(both_waves(), options)), Error);
}

TEST(FindBeats, CountsStoredSamplesOfTheChannelItReads) {
  const Recording recording = both_waves();
  const BeatTrain found = find_beats(recording);
  EXPECT_GT(found.accepted().size(), 20U);
  for (const Beat& beat : found.accepted()) EXPECT_EQ(beat.sample, recording.channels[0].sample_at(beat.time));
}

TEST(FindBeats, GivesTheSameBeatsEveryTime) {
  const Recording recording = both_waves();
  const std::vector<Seconds> times = find_beats(recording).times();
  EXPECT_GT(times.size(), 20U);
  EXPECT_EQ(find_beats(recording).times(), times);
}

}  // namespace
