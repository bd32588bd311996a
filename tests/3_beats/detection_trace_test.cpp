#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "3_beats/heart_scenes.hpp"
#include "pulsewright/beats.hpp"

namespace {

using namespace pulsewright;

constexpr Span stretch{Seconds{40}, Seconds{52}};

/// The accepted candidates of the trace are the accepted beats, to within 60 ms.
void expect_same_beats(const Recording& recording) {
  const ChosenSignals chosen = choose_signals(recording);
  const DetectionTrace trace = detection_trace(chosen, stretch);
  std::vector<Seconds> found;
  for (const Seconds time : find_beats(recording).times())
    if (stretch.contains(time)) found.push_back(time);
  ASSERT_GT(found.size(), 8U);
  std::vector<Seconds> traced;
  for (const TracedCandidate& candidate : trace.candidates)
    if (candidate.verdict == BeatVerdict::accepted) traced.push_back(candidate.time);
  ASSERT_EQ(traced.size(), found.size());
  for (std::size_t i = 0; i < found.size(); ++i) EXPECT_NEAR(traced[i].value(), found[i].value(), 0.06);
}

TEST(DetectionTrace, AcceptsTheBeatsThatFindBeatsFinds) {
  expect_same_beats(simulate(beat_tests::steady(75, 250, 20)).recording);
  expect_same_beats(simulate(beat_tests::steady_pulse(75, 100)).recording);
}

TEST(DetectionTrace, CoversExactlyTheStretch) {
  const ChosenSignals chosen = choose_signals(simulate(beat_tests::steady_pulse(75, 100)).recording);
  const DetectionTrace trace = detection_trace(chosen, stretch);
  EXPECT_NEAR(trace.start.value(), 40, 0.02);
  EXPECT_EQ(trace.function.size(), 1200U);
  EXPECT_GT(trace.candidates.size(), 12U);
  for (const TracedCandidate& candidate : trace.candidates) EXPECT_TRUE(stretch.contains(candidate.time));
}

TEST(DetectionTrace, MeasuresBeatsOfOneHeartAsAboutUsual) {
  const ChosenSignals chosen = choose_signals(simulate(beat_tests::steady(75, 250, 30)).recording);
  std::size_t beats = 0;
  for (const TracedCandidate& candidate : detection_trace(chosen, stretch).candidates) {
    if (candidate.verdict != BeatVerdict::accepted) continue;
    EXPECT_NEAR(candidate.size / candidate.usual, 1.0, 0.3);
    EXPECT_GT(candidate.log_odds, 0);
    ++beats;
  }
  EXPECT_NEAR(static_cast<double>(beats), 15.0, 1.0);  // twelve seconds at 75 beats/min
}

TEST(DetectionTrace, IsEmptyOutsideTheSignals) {
  const ChosenSignals chosen = choose_signals(simulate(beat_tests::steady(75, 250, 30)).recording);
  const DetectionTrace trace = detection_trace(chosen, {Seconds{500}, Seconds{510}});
  EXPECT_TRUE(trace.function.empty());
  EXPECT_TRUE(trace.candidates.empty());
}

TEST(DetectionTrace, NeedsASignal) {
  EXPECT_THROW(static_cast<void>(detection_trace({}, stretch)), Error);
  EXPECT_THROW(static_cast<void>(find_beats(Recording{}, ChosenSignals{}, FindOptions{})), Error);
}

}  // namespace
