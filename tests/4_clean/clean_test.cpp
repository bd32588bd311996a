#include "pulsewright/clean.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

namespace pulsewright {
namespace {

/// Beats from intervals in ms, the first at 0.5 s.
BeatTrain train_of(const std::vector<double>& intervals_ms) {
  BeatTrain train;
  double t = 0.5;
  const auto add = [&] {
    Beat beat;
    beat.time = Seconds{t};
    beat.sample = SampleIndex{std::llround(t * 1000.0)};
    beat.confidence = 0.99;
    train.candidates.push_back(beat);
  };
  add();
  for (const double ms : intervals_ms) {
    t += ms / 1000.0;
    add();
  }
  train.duration = Seconds{t + 0.5};
  train.source = BeatSource::ecg;
  return train;
}

std::vector<IntervalVerdict> verdicts(const Intervals& intervals) {
  std::vector<IntervalVerdict> result;
  for (const Interval& row : intervals.intervals) result.push_back(row.verdict);
  return result;
}

/// Thirty quiet intervals about 800 ms, with `middle` put in after the fifteenth.
std::vector<double> quiet_with(const std::vector<double>& middle) {
  std::vector<double> values;
  const auto quiet = [&] {
    for (int i = 0; i < 15; ++i) values.push_back(800.0 + 10.0 * std::sin(1.3 * i));
  };
  quiet();
  values.insert(values.end(), middle.begin(), middle.end());
  quiet();
  return values;
}

using enum IntervalVerdict;

TEST(Clean, KeepsEveryOriginalBesideItsVerdict) {
  const std::vector<double> values = quiet_with({1600.0, 300.0, 500.0});
  const Intervals result = clean(train_of(values));
  ASSERT_EQ(result.intervals.size(), values.size());
  for (std::size_t i = 0; i < values.size(); ++i) {
    EXPECT_NEAR(result.intervals[i].original_ms, values[i], 1e-9);
    EXPECT_NEAR((result.intervals[i].end - result.intervals[i].start).value() * 1000.0, values[i], 1e-9);
  }
}

TEST(Clean, AQuietSeriesIsNormalThroughoutAndUnchanged) {
  const Intervals result = clean(train_of(quiet_with({})));
  ASSERT_EQ(result.intervals.size(), 30u);
  for (const Interval& row : result.intervals) {
    EXPECT_EQ(row.verdict, normal);
    EXPECT_EQ(row.corrected_ms, row.original_ms);
  }
  EXPECT_EQ(result.flagged_percent(), 0.0);
}

TEST(Clean, ADoubledIntervalIsAMissedBeatAndStandsForTwoHalves) {
  const Intervals result = clean(train_of(quiet_with({1610.0})));
  const Interval& row = result.intervals[15];
  EXPECT_EQ(row.verdict, missed_beat);
  EXPECT_EQ(row.missed_inside, 1);
  EXPECT_NEAR(row.corrected_ms.value(), 805.0, 1e-9);
  EXPECT_NEAR(result.flagged_percent().value(), 100.0 / 31.0, 1e-9);
}

TEST(Clean, TwoMissedBeatsInOneIntervalAreBothCounted) {
  const Intervals result = clean(train_of(quiet_with({2400.0})));
  EXPECT_EQ(result.intervals[15].verdict, missed_beat);
  EXPECT_EQ(result.intervals[15].missed_inside, 2);
  EXPECT_NEAR(result.intervals[15].corrected_ms.value(), 800.0, 1e-9);
}

TEST(Clean, AnExtraDetectionSplitsAnIntervalThatIsMergedAgain) {
  const Intervals result = clean(train_of(quiet_with({310.0, 490.0})));
  EXPECT_EQ(result.intervals[15].verdict, extra_beat);
  EXPECT_EQ(result.intervals[16].verdict, extra_beat);
  EXPECT_NEAR(result.intervals[15].corrected_ms.value(), 800.0, 1e-9);
  EXPECT_EQ(result.intervals[15].merged_rows, 2);
  EXPECT_FALSE(result.intervals[16].corrected_ms);
}

TEST(Clean, TwoExtraDetectionsInOneIntervalAreMergedTogether) {
  const Intervals result = clean(train_of(quiet_with({250.0, 300.0, 250.0})));
  for (const std::size_t i : {15u, 16u, 17u}) EXPECT_EQ(result.intervals[i].verdict, extra_beat);
  EXPECT_NEAR(result.intervals[15].corrected_ms.value(), 800.0, 1e-9);
  EXPECT_EQ(result.intervals[15].merged_rows, 3);
}

TEST(Clean, AnEarlyBeatAndItsFullPauseAreInterpolated) {
  const Intervals result = clean(train_of(quiet_with({520.0, 1080.0})));
  EXPECT_EQ(result.intervals[15].verdict, early_beat);
  EXPECT_EQ(result.intervals[16].verdict, compensatory_pause);
  EXPECT_NEAR(result.intervals[15].corrected_ms.value(), 800.0, 15.0);
  EXPECT_NEAR(result.intervals[16].corrected_ms.value(), 800.0, 15.0);
}

TEST(Clean, AnEarlyBeatThatResetsTheRhythmLeavesTheNextIntervalNormal) {
  const Intervals result = clean(train_of(quiet_with({540.0, 810.0})));
  EXPECT_EQ(result.intervals[15].verdict, early_beat);
  EXPECT_EQ(result.intervals[16].verdict, normal);
}

TEST(Clean, ALateDetectionIsMisplacedAndTheSumOfItsIntervalsIsKept) {
  const Intervals result = clean(train_of(quiet_with({900.0, 710.0})));
  EXPECT_EQ(result.intervals[15].verdict, misplaced);
  EXPECT_EQ(result.intervals[16].verdict, misplaced);
  EXPECT_NEAR(result.intervals[15].corrected_ms.value() + result.intervals[16].corrected_ms.value(), 1610.0, 1e-9);
  EXPECT_NEAR(result.intervals[15].corrected_ms.value(), 805.0, 10.0);
}

TEST(Clean, AnIntervalOverAnUnreadableStretchIsAGapWithoutAValue) {
  BeatTrain train = train_of(quiet_with({}));
  const Seconds t = train.candidates[10].time;
  train.unreadable = {{t + 100_ms, t + 200_ms}};
  const Intervals result = clean(train);
  EXPECT_EQ(result.intervals[10].verdict, gap);
  EXPECT_FALSE(result.intervals[10].corrected_ms);
  EXPECT_EQ(result.intervals[9].verdict, normal);
  EXPECT_EQ(result.intervals[11].verdict, normal);
}

TEST(Clean, AnUnreadableStretchThatOnlyTouchesAnIntervalDoesNotSpoilIt) {
  BeatTrain train = train_of(quiet_with({}));
  train.unreadable = {{train.candidates[11].time, train.candidates[12].time}};
  const Intervals result = clean(train);
  EXPECT_EQ(result.intervals[10].verdict, normal);
  EXPECT_EQ(result.intervals[11].verdict, gap);
  EXPECT_EQ(result.intervals[12].verdict, normal);
}

TEST(Clean, AnIntervalLongerThanTheLimitIsAGap) {
  EXPECT_EQ(clean(train_of(quiet_with({3100.0}))).intervals[15].verdict, gap);
  CleanOptions options;
  options.longest = 1500_ms;
  EXPECT_EQ(clean(train_of(quiet_with({1600.0})), options).intervals[15].verdict, gap);
}

TEST(Clean, LeavingOutGivesNoValueToAnythingFlagged) {
  CleanOptions options;
  options.correction = Correction::leave_out;
  const Intervals result = clean(train_of(quiet_with({1600.0, 310.0, 490.0, 800.0, 520.0, 1080.0})), options);
  for (const Interval& row : result.intervals) EXPECT_EQ(row.corrected_ms.has_value(), row.verdict == normal);
  const std::vector<IntervalVerdict> given = verdicts(result);
  EXPECT_GE(std::count(given.begin(), given.end(), normal), 30);
  EXPECT_GE(std::count_if(given.begin(), given.end(), [](IntervalVerdict v) { return v != normal; }), 3);
}

TEST(Clean, AVentricularLabelDecidesTheIntervalsOnBothSidesEvenWhenTheTimingIsUsual) {
  BeatTrain train = train_of(quiet_with({}));
  train.candidates[12].label = BeatLabel::ventricular;
  const Intervals result = clean(train);
  EXPECT_EQ(result.intervals[11].verdict, early_beat);
  EXPECT_EQ(result.intervals[12].verdict, compensatory_pause);
  EXPECT_EQ(result.intervals[10].verdict, normal);
  EXPECT_EQ(result.intervals[13].verdict, normal);
}

TEST(Clean, AnInterpolatedVentricularBeatIsEarlyByItsLabelAndNotAnExtraDetection) {
  BeatTrain train = train_of(quiet_with({390.0, 410.0}));
  train.candidates[16].label = BeatLabel::ventricular;
  const Intervals result = clean(train);
  EXPECT_EQ(result.intervals[15].verdict, early_beat);
  EXPECT_EQ(result.intervals[16].verdict, compensatory_pause);
}

TEST(Clean, EverySecondBeatVentricularLeavesNothingToInterpolateFrom) {
  BeatTrain train = train_of(std::vector<double>(20, 700.0));
  for (std::size_t i = 1; i < train.candidates.size(); i += 2) train.candidates[i].label = BeatLabel::ventricular;
  const Intervals result = clean(train);
  ASSERT_EQ(result.intervals.size(), 20u);
  for (const Interval& row : result.intervals) {
    EXPECT_NE(row.verdict, normal);
    EXPECT_FALSE(row.corrected_ms);
  }
}

TEST(Clean, BreathingOfAFitYoungPersonAtRestIsNotFlagged) {
  // 50 beats/min, intervals swinging by 150 ms either way with a breath of 4.5 s.
  std::vector<double> values;
  double t = 0.0;
  for (int i = 0; i < 150; ++i) {
    values.push_back(1200.0 + 150.0 * std::sin(2.0 * std::numbers::pi * t / 4.5));
    t += values.back() / 1000.0;
  }
  EXPECT_EQ(clean(train_of(values)).flagged_percent(), 0.0);
}

TEST(Clean, AFastOnsetOfExerciseIsNotFlagged) {
  // 75 to 170 beats/min with a time constant of 12 s, after a minute of rest with breathing.
  std::vector<double> values;
  double t = 0.0;
  while (t < 180.0) {
    const double rate = t < 60.0 ? 75.0 : 170.0 - 95.0 * std::exp(-(t - 60.0) / 12.0);
    const double breath = (t < 60.0 ? 30.0 : 5.0) * std::sin(2.0 * std::numbers::pi * t / 3.7);
    values.push_back(60000.0 / rate + breath);
    t += values.back() / 1000.0;
  }
  EXPECT_EQ(clean(train_of(values)).flagged_percent(), 0.0);
}

TEST(Clean, ASuddenLastingStepOfTheRateIsNotFlagged) {
  std::vector<double> values(30, 750.0);
  values.insert(values.end(), 40, 500.0);  // 80 to 120 beats/min at once
  EXPECT_EQ(clean(train_of(values)).flagged_percent(), 0.0);
}

TEST(Clean, TheTicksOfASlowClockInHardExerciseAreNotFlagged) {
  // 190 beats/min, almost no variability, beats on the grid of a 250 Hz clock.
  std::vector<double> times{0.0};
  std::mt19937 random(7);
  for (int i = 0; i < 300; ++i)
    times.push_back(times.back() + 60.0 / 190.0 + 0.002 * (static_cast<double>(random() % 1000) / 500.0 - 1.0));
  std::vector<double> values;
  for (std::size_t i = 1; i < times.size(); ++i)
    values.push_back(4.0 * (std::round(times[i] * 250.0) - std::round(times[i - 1] * 250.0)));
  EXPECT_EQ(clean(train_of(values)).flagged_percent(), 0.0);
}

TEST(Clean, MissedAndExtraBeatsInHardExerciseAreFound) {
  std::vector<double> values(100, 316.0);
  values[40] = 632.0;
  values[70] = 120.0;
  values.insert(values.begin() + 71, 196.0);
  const Intervals result = clean(train_of(values));
  EXPECT_EQ(result.intervals[40].verdict, missed_beat);
  EXPECT_EQ(result.intervals[70].verdict, extra_beat);
  EXPECT_EQ(result.intervals[71].verdict, extra_beat);
  EXPECT_NEAR(result.flagged_percent().value(), 100.0 * 3.0 / 101.0, 1e-9);
}

TEST(Clean, TheWorkedExampleOfTenIntervalsHasNothingToFlag) {
  EXPECT_EQ(clean(train_of({800, 810, 790, 860, 800, 900, 780, 820, 815, 805})).flagged_percent(), 0.0);
}

TEST(Clean, FewerThanTwoBeatsGiveNoIntervalsAndAWarning) {
  for (const std::size_t beats : {0u, 1u}) {
    BeatTrain train = train_of({});
    train.candidates.resize(beats);
    const Intervals result = clean(train);
    EXPECT_TRUE(result.intervals.empty());
    ASSERT_EQ(result.warnings.size(), 1u);
    EXPECT_EQ(result.warnings[0].code, "too_few_beats");
    EXPECT_FALSE(result.flagged_percent());
  }
}

TEST(Clean, AFewIntervalsAreJudgedByTheFixedLimitsOnlyAndAWarningSaysSo) {
  const Intervals result = clean(train_of({800.0, 1600.0, 100.0}));
  EXPECT_EQ(verdicts(result), (std::vector{normal, normal, extra_beat}));
  ASSERT_EQ(result.warnings.size(), 1u);
  EXPECT_EQ(result.warnings[0].code, "too_few_to_judge");
}

TEST(Clean, RejectedCandidatesAreNotBeats) {
  BeatTrain train = train_of(quiet_with({310.0, 490.0}));
  train.candidates[16].verdict = BeatVerdict::repolarisation;
  const Intervals result = clean(train);
  EXPECT_EQ(result.intervals.size(), 31u);
  EXPECT_EQ(result.flagged_percent(), 0.0);
}

TEST(Clean, BeatsThatDoNotIncreaseInTimeAreRefusedWithTheirPlace) {
  for (const double second : {0.5, 0.4}) {
    BeatTrain train = train_of({800.0});
    train.candidates[1].time = Seconds{second};
    try {
      (void)clean(train);
      FAIL() << "accepted beats at 0.5 and " << second << " s";
    } catch (const Error& error) {
      EXPECT_EQ(error.code(), ErrorCode::contract);
      EXPECT_NE(std::string{error.what()}.find("accepted beat 1"), std::string::npos) << error.what();
    }
  }
}

TEST(Clean, LimitsThatContradictEachOtherAreRefused) {
  CleanOptions options;
  options.shortest = 3_s;
  EXPECT_THROW((void)clean(train_of({800.0}), options), Error);
}

TEST(Clean, AConstantSeriesIsNormal) {
  EXPECT_EQ(clean(train_of(std::vector<double>(50, 1000.0))).flagged_percent(), 0.0);
}

TEST(NormalSeries, MissedBeatsArePutInMergedRowsAreOneAndGapsBreakTheTouch) {
  const Intervals result = clean(train_of(quiet_with({1600.0, 800.0, 310.0, 490.0, 800.0, 3500.0, 800.0})));
  const std::vector<NormalInterval> series = normal_series(result);
  // 15 + (2 for the missed beat) + 1 + (1 merged) + 1 + (gap: none) + 1 + 15
  ASSERT_EQ(series.size(), 36u);
  EXPECT_FALSE(series[0].touches_last);
  for (std::size_t i = 1; i < series.size(); ++i) {
    EXPECT_EQ(series[i].touches_last, i != 20u) << i;
    if (series[i].touches_last) {
      EXPECT_DOUBLE_EQ(series[i].start.value(), series[i - 1].end.value());
    }
    EXPECT_NEAR((series[i].end - series[i].start).value() * 1000.0, series[i].ms, 1e-6) << i;
    EXPECT_EQ(series[i].replaced, i == 15u || i == 16u) << i;
  }
  EXPECT_NEAR(series[18].ms, 800.0, 1e-9);
}

TEST(Clean, EveryRandomSeriesIsCoveredByVerdictsThatKeepTheirRules) {
  std::mt19937 random(20);
  const auto uniform = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(random()) / 4294967296.0;
  };
  for (int round = 0; round < 300; ++round) {
    std::vector<double> values;
    const int n = static_cast<int>(random() % 60);
    for (int i = 0; i < n; ++i) values.push_back(random() % 4 == 0 ? uniform(20.0, 4000.0) : uniform(600.0, 900.0));
    const Intervals result = clean(train_of(values));
    ASSERT_EQ(result.intervals.size(), values.size());
    for (std::size_t i = 0; i < values.size(); ++i) {
      const Interval& row = result.intervals[i];
      if (values[i] < 239.9) {
        EXPECT_NE(row.verdict, normal);
      }
      if (values[i] > 3000.1) {
        EXPECT_EQ(row.verdict, gap);
      }
      if (row.verdict == normal) {
        EXPECT_EQ(row.corrected_ms, row.original_ms);
      }
      if (row.verdict == gap) {
        EXPECT_FALSE(row.corrected_ms);
      }
      EXPECT_EQ(row.missed_inside > 0, row.verdict == missed_beat);
      if (row.corrected_ms) {
        EXPECT_GT(*row.corrected_ms, 0.0);
        ASSERT_LE(i + static_cast<std::size_t>(row.merged_rows), values.size());
      }
    }
  }
}

}  // namespace
}  // namespace pulsewright
