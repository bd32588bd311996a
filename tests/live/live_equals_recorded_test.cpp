#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <random>

#include "live/sensor_bytes.hpp"
#include "pulsewright/live.hpp"
#include "pulsewright/live_recording.hpp"
#include "pulsewright/read.hpp"

namespace {

using namespace pulsewright;
using namespace live_tests;

/// Runs a sensor over bytes cut into pieces.
LiveOutcome run(const std::string& bytes, std::size_t piece, const LiveSensorOptions& options = {}) {
  LiveSensor sensor{options};
  LiveOutcome outcome;
  for (std::size_t at = 0; at < bytes.size(); at += piece)
    sensor.push(std::span{bytes}.subspan(at, std::min(piece, bytes.size() - at)), std::nullopt, outcome);
  sensor.finish(outcome);
  return outcome;
}

std::vector<Beat> beats_of(const LiveOutcome& outcome) {
  std::vector<Beat> beats;
  for (const LiveEvent& event : outcome.events)
    if (!event.second) beats.push_back(event.beat);
  return beats;
}

std::vector<LiveSecond> seconds_of(const LiveOutcome& outcome) {
  std::vector<LiveSecond> seconds;
  for (const LiveEvent& event : outcome.events)
    if (event.second) seconds.push_back(*event.second);
  return seconds;
}

void expect_same(const LiveOutcome& a, const LiveOutcome& b) {
  ASSERT_EQ(a.events.size(), b.events.size());
  for (std::size_t i = 0; i < a.events.size(); ++i) {
    ASSERT_EQ(a.events[i].second.has_value(), b.events[i].second.has_value());
    EXPECT_EQ(a.events[i].beat.time, b.events[i].beat.time);
    EXPECT_EQ(a.events[i].beat.confidence, b.events[i].beat.confidence);
    if (!a.events[i].second) continue;
    EXPECT_EQ(a.events[i].second->window.rate, b.events[i].second->window.rate);
    EXPECT_EQ(a.events[i].second->window.low, b.events[i].second->window.low);
    EXPECT_EQ(a.events[i].second->window.confidence, b.events[i].second->window.confidence);
    EXPECT_EQ(a.events[i].second->advice, b.events[i].second->advice);
  }
}

/// Jitter of the clock, frames lost, a pause.
std::vector<SentSample> troubled(std::vector<SentSample> sent) {
  std::mt19937 random{11};
  std::vector<SentSample> arrived;
  for (SentSample s : sent) {
    if (random() % 20 == 0) continue;
    s.time_us += random() % 900;
    if (s.time_us > 40'000'000) s.time_us += 7'300'000;
    arrived.push_back(s);
  }
  return arrived;
}

TEST(Live, GivesTheSameBeatsAndRatesForChunksOfAnySize) {
  const std::string bytes = lines_of(troubled(sent_pulse(84, 100, 70)));
  const LiveOutcome whole = run(bytes, bytes.size());
  EXPECT_GT(beats_of(whole).size(), 70U);
  for (const std::size_t piece : {1U, 13U, 777U, 20'011U}) expect_same(whole, run(bytes, piece));
}

TEST(Live, EqualsTheCausalRunOverWhatItRecordedBitForBit) {
  for (const ChannelKind kind : {ChannelKind::pulse, ChannelKind::ecg}) {
    std::vector<SentSample> sent = sent_pulse(84, 100, 70);
    if (kind == ChannelKind::ecg) {
      Scenario scene = beat_tests::steady(84, 250, 20);
      const Recording recording = simulate(scene).recording;
      sent.clear();
      for (std::size_t i = 0; i < recording.channels[0].samples.size(); ++i)
        sent.push_back({static_cast<std::uint32_t>(i), 4000ULL * i,
                        static_cast<int>(std::lround(1000.0F * recording.channels[0].samples[i]))});
    }
    LiveSensorOptions options;
    options.kind = kind;
    const LiveOutcome live = run(lines_of(troubled(sent)), 997, options);

    const std::filesystem::path path =
        std::filesystem::path{::testing::TempDir()} / ("pulsewright_live_" + std::string{to_string(kind)} + ".csv");
    {
      std::ofstream file{path, std::ios::binary};
      file << live_recording_header(kind, "wren", "2026-03-02T10:00:00Z");
      for (const TimedSample& sample : live.samples) file << live_recording_row(sample);
      file << "98765";  // cut off
    }
    const Recording recorded = read_recording(path);
    std::filesystem::remove(path);
    ASSERT_EQ(recorded.channels.size(), 1U);
    EXPECT_EQ(recorded.channels[0].kind, kind);
    EXPECT_EQ(*recorded.clock_start, "2026-03-02T10:00:00Z");
    ASSERT_EQ(recorded.channels[0].samples.size(), live.grid.size());

    FindOptions causal;
    causal.streaming = true;
    std::vector<Beat> whole;
    for (const Beat& beat : find_beats(recorded, causal).candidates)
      if (beat.verdict == BeatVerdict::accepted) whole.push_back(beat);
    const std::vector<Beat> shown = beats_of(live);
    ASSERT_EQ(shown.size(), whole.size());
    EXPECT_GT(shown.size(), 70U);
    for (std::size_t i = 0; i < whole.size(); ++i) {
      EXPECT_EQ(shown[i].time, whole[i].time);
      EXPECT_EQ(shown[i].confidence, whole[i].confidence);
    }

    // The rates: those of a channel that is shown all samples at once.
    LiveChannel at_once{kind, recorded.channels[0].rate};
    LiveOutcome again;
    at_once.push(recorded.channels[0].samples, again.events);
    at_once.finish(again.events);
    expect_same(live, again);
  }
}

TEST(Live, ShowsTheTrueRateAfterTenSecondsAndSaysThatTheSignalIsGood) {
  const LiveOutcome live = run(lines_of(sent_pulse(72, 100, 60)), 4096);
  const auto seconds = seconds_of(live);
  ASSERT_GE(seconds.size(), 58U);
  std::size_t shown = 0;
  for (const LiveSecond& second : seconds) {
    if (second.at < Seconds{12}) continue;
    ASSERT_TRUE(second.window.rate) << second.at.value();
    EXPECT_NEAR(second.window.rate->value(), 72.0, 4.0);
    EXPECT_LE(*second.window.low, *second.window.rate);
    EXPECT_EQ(second.advice, SignalAdvice::good);
    ++shown;
  }
  EXPECT_GT(shown, 40U);
}

TEST(Live, SaysWhatIsWrongWithTheSignalInWords) {
  const auto sent = sent_pulse(72, 100, 60);
  const auto advice_when = [&](auto change) {
    std::vector<SentSample> bent = sent;
    for (SentSample& s : bent)
      if (s.time_us >= 30'000'000) change(s);
    return seconds_of(run(lines_of(bent), 4096))[54].advice;
  };
  EXPECT_EQ(advice_when([](SentSample& s) { s.value = 17; }), SignalAdvice::no_contact);
  std::mt19937 random{2};
  EXPECT_EQ(advice_when([&](SentSample& s) { s.value = 500 + static_cast<int>(random() % 3); }),
            SignalAdvice::no_contact);
  int highest = sent[0].value, lowest = highest;
  for (const SentSample& s : sent) highest = std::max(highest, s.value), lowest = std::min(lowest, s.value);
  EXPECT_EQ(advice_when([&](SentSample& s) { s.value = std::min(s.value, lowest + (highest - lowest) / 2); }),
            SignalAdvice::too_strong);
  EXPECT_EQ(advice_when([&](SentSample& s) { s.value += static_cast<int>(random() % 20'000); }),
            SignalAdvice::hold_still);
  EXPECT_STREQ(advice_text(SignalAdvice::too_strong, ChannelKind::pulse), "press lighter");
}

TEST(Live, RefusesASensorThatIsTooSlow) {
  std::string bytes;
  for (int i = 0; i < 200; ++i) bytes += "t_us=" + std::to_string(100'000 * i) + ",v=1\n";
  EXPECT_THROW(run(bytes, 100), Error);
}

}  // namespace
