/// Intervals against intervals, and counts by hand against recordings.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "pulsewright/error.hpp"
#include "pulsewright/interval_agreement.hpp"
#include "pulsewright/pulse_count.hpp"

namespace pulsewright {
namespace {

BeatTrain train_of(const std::vector<double>& times) {
  BeatTrain train;
  for (const double t : times) {
    Beat beat;
    beat.time = Seconds{t};
    beat.confidence = 1;
    train.candidates.push_back(beat);
  }
  train.duration = Seconds{times.back() + 1};
  return train;
}

TEST(IntervalAgreement, ComparesIntervalsBetweenTheSameNeighbours) {
  // 3 s is missed and 4.5 s is extra: of the five intervals only 1-2 and 5-6 have the same beats as neighbours on both sides.
  const auto found = interval_agreement(train_of({1, 2, 3, 4, 5, 6}), train_of({1.01, 2.03, 4.0, 4.5, 5.0, 6.02}));
  EXPECT_EQ(found.beats.false_negatives, 1);
  EXPECT_EQ(found.beats.false_positives, 1);
  EXPECT_EQ(found.reference_intervals, 5U);
  ASSERT_EQ(found.intervals.pairs, 2U);
  EXPECT_NEAR(found.intervals.plain->bias.value, 20, 1e-6);  // 1020 and 1020 against 1000
  EXPECT_NEAR(found.intervals.plain->sd, 0, 1e-6);
}

TEST(IntervalAgreement, IsBlindToAConstantDelayAndWarnsOfAPulse) {
  std::mt19937_64 bits(1);
  std::normal_distribution<double> normal;
  std::vector<double> times{1}, late;
  for (int i = 0; i < 300; ++i) times.push_back(times.back() + 0.8 + 0.03 * normal(bits));
  for (const double t : times) late.push_back(t + 0.1);
  BeatTrain pulse = train_of(late);
  pulse.source = BeatSource::pulse;
  const auto found = interval_agreement(train_of(times), pulse);
  EXPECT_NEAR(found.intervals.mean_absolute_error->value, 0, 1e-6);
  for (const MeasureAgreement& m : found.measures) EXPECT_NEAR(*m.difference, 0, 1e-6) << m.measure;
  EXPECT_TRUE(std::any_of(found.warnings.begin(), found.warnings.end(),
                          [](const Warning& w) { return w.code == "pulse_transit"; }));
  EXPECT_TRUE(found.at_rest);
}

TEST(IntervalAgreement, SaysWhenTheReferenceWasNotAtRest) {
  std::vector<double> times{0.5};
  while (times.back() < 120) times.push_back(times.back() + 60.0 / 150);
  EXPECT_FALSE(interval_agreement(train_of(times), train_of(times)).at_rest);
}

TEST(SheetCount, RoundsAsCommonPracticeSays) {
  // Common practice and its rounding error: a beat in 10 s is worth 6 beats/min; begun on a beat bias -3 and RMS 3.46, at a moment RMS 2.45.
  ScoredCount ten{.count = {.code = "wren",
                            .recording = "a",
                            .start = {},
                            .length = Seconds{10},
                            .counted = 12,
                            .began = CountStart::on_a_beat},
                  .by_count = BeatsPerMinute{72},
                  .recorded = BeatsPerMinute{75},
                  .difference_bpm = -3,
                  .reason = ""};
  ScoredCount other = ten;
  other.count.began = CountStart::any_moment;
  const CountStudy study = count_study({ten, other});
  ASSERT_EQ(study.groups.size(), 2U);
  EXPECT_NEAR(study.groups[0].expected_bias_bpm, -3, 1e-9);
  EXPECT_NEAR(study.groups[0].expected_rms_bpm, 3.46, 0.005);
  EXPECT_NEAR(study.groups[1].expected_bias_bpm, 0, 1e-9);
  EXPECT_NEAR(study.groups[1].expected_rms_bpm, 2.45, 0.005);
  EXPECT_NEAR(*study.groups[0].found_rms_bpm, 3, 1e-9);
}

TEST(SheetCount, RoundingErrorExpectedIsTheOneFoundWhenCountsAreRight) {
  // People who count without a fault, rates 60 to 110, begun at a moment and on a beat.
  std::mt19937_64 bits(7);
  std::uniform_real_distribution<double> uniform;
  std::vector<ScoredCount> counts;
  for (int k = 0; k < 4000; ++k) {
    const double interval = 60 / (60 + 50 * uniform(bits)), first = interval * uniform(bits);
    std::vector<double> times;
    for (double t = first; t < 60; t += interval) times.push_back(t);
    const bool on_beat = k % 2 == 0;
    const double start = on_beat ? times[3] : 5 + uniform(bits);
    int counted = 0;
    for (const double t : times) counted += t > start + 1e-9 && t <= start + 15 ? 1 : 0;
    counts.push_back(score_count({.code = "",
                                  .recording = "",
                                  .start = Seconds{start},
                                  .length = Seconds{15},
                                  .counted = counted,
                                  .began = on_beat ? CountStart::on_a_beat : CountStart::any_moment},
                                 train_of(times)));
  }
  const CountStudy study = count_study(std::move(counts));
  for (const CountGroup& group : study.groups) {
    EXPECT_NEAR(*group.found_bias_bpm, group.expected_bias_bpm, 0.12) << to_string(group.began);
    EXPECT_NEAR(*group.found_rms_bpm, group.expected_rms_bpm, 0.12) << to_string(group.began);
  }
}

TEST(SheetCount, SaysWhyThereIsNoRecordedRateAndWarnsOfAMiscount) {
  const BeatTrain beats = train_of({1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12});
  const SheetCount late{.code = "heron",
                        .recording = "b",
                        .start = Seconds{8},
                        .length = Seconds{15},
                        .counted = 15,
                        .began = CountStart::any_moment};
  EXPECT_NE(score_count(late, beats).reason.find("ends before"), std::string::npos);
  SheetCount wrong{.code = "plover",
                   .recording = "b",
                   .start = Seconds{0},
                   .length = Seconds{10},
                   .counted = 20,
                   .began = CountStart::any_moment};
  EXPECT_EQ(count_study({score_count(wrong, beats)}).warnings.size(), 1U);
  wrong.length = Seconds{0};
  EXPECT_THROW(static_cast<void>(score_count(wrong, beats)), Error);
}

}  // namespace
}  // namespace pulsewright
