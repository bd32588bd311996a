// Channels: from stored samples to times and back, on an even clock and on an uneven one.
#include "pulsewright/recording.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdio>
#include <set>
#include <string>

namespace pulsewright {
namespace {

Channel even_channel(std::size_t count, Hertz rate, Seconds start = 0_s) {
  Channel channel;
  channel.rate = rate;
  channel.start = start;
  channel.samples.assign(count, 0.0F);
  return channel;
}

Channel uneven_channel(const std::vector<double>& times) {
  Channel channel = even_channel(times.size(), 10_hz);
  channel.times = times;
  return channel;
}

TEST(EvenChannel, SampleTimesCountFromItsStart) {
  const Channel channel = even_channel(1000, 250_hz, 2_s);
  EXPECT_EQ(channel.time_of_sample(SampleIndex{0}), 2_s);
  EXPECT_EQ(channel.time_of_sample(SampleIndex{125}), 2.5_s);
}

TEST(EvenChannel, FindsTheNearestSampleAndGivesATieToTheLater) {
  const Channel channel = even_channel(100, 4_hz, 1_s);
  EXPECT_EQ(channel.sample_at(1_s), SampleIndex{0});
  EXPECT_EQ(channel.sample_at(1.124_s), SampleIndex{0});
  EXPECT_EQ(channel.sample_at(1.125_s), SampleIndex{1});
  EXPECT_EQ(channel.sample_at(2_s), SampleIndex{4});
}

TEST(EvenChannel, TimesOutsideFallOnTheFirstOrLastSample) {
  const Channel channel = even_channel(10, 4_hz, 1_s);
  EXPECT_EQ(channel.sample_at(0_s), SampleIndex{0});
  EXPECT_EQ(channel.sample_at(1000_s), SampleIndex{9});
}

TEST(UnevenChannel, SampleTimesAreThoseStored) {
  const Channel channel = uneven_channel({0.0, 0.1, 0.5});
  EXPECT_EQ(channel.time_of_sample(SampleIndex{1}), 0.1_s);
  EXPECT_EQ(channel.time_of_sample(SampleIndex{2}), 0.5_s);
}

TEST(UnevenChannel, FindsTheNearestStoredTimeAndGivesATieToTheLater) {
  const Channel channel = uneven_channel({0.0, 0.25, 1.25});
  EXPECT_EQ(channel.sample_at(0.1_s), SampleIndex{0});
  EXPECT_EQ(channel.sample_at(0.125_s), SampleIndex{1});
  EXPECT_EQ(channel.sample_at(0.25_s), SampleIndex{1});
  EXPECT_EQ(channel.sample_at(0.7_s), SampleIndex{1});
  EXPECT_EQ(channel.sample_at(0.75_s), SampleIndex{2});
  EXPECT_EQ(channel.sample_at(0.8_s), SampleIndex{2});
}

TEST(UnevenChannel, TimesOutsideFallOnTheFirstOrLastSample) {
  const Channel channel = uneven_channel({1.0, 1.1, 1.5});
  EXPECT_EQ(channel.sample_at(0_s), SampleIndex{0});
  EXPECT_EQ(channel.sample_at(9_s), SampleIndex{2});
}

TEST(EmptyChannel, AnswersSampleZeroForAnyTime) {
  EXPECT_EQ(even_channel(0, 250_hz).sample_at(3_s), SampleIndex{0});
  EXPECT_EQ(uneven_channel({}).sample_at(Seconds{-3.0}), SampleIndex{0});
}

TEST(ChannelKind, EveryKindHasAWordOfItsOwn) {
  std::set<std::string> words;
  for (const ChannelKind kind : {ChannelKind::ecg, ChannelKind::pulse, ChannelKind::acceleration, ChannelKind::gyro,
                                 ChannelKind::respiration, ChannelKind::marker, ChannelKind::other}) {
    const std::string word = to_string(kind);
    EXPECT_TRUE(!word.empty() && std::all_of(word.begin(), word.end(), [](char c) { return c >= 'a' && c <= 'z'; }))
        << word;
    words.insert(word);
  }
  EXPECT_EQ(words.size(), 7U);
}

TEST(Version, IsThreeNumbersJoinedByPoints) {
  unsigned major = 0, minor = 0, patch = 0;
  int end = 0;
  const std::string text = version();
  ASSERT_EQ(std::sscanf(text.c_str(), "%u.%u.%u%n", &major, &minor, &patch, &end), 3) << text;
  EXPECT_EQ(static_cast<std::size_t>(end), text.size()) << text;
}

}  // namespace
}  // namespace pulsewright
