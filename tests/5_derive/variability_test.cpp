#include "pulsewright/variability.hpp"

#include <gtest/gtest.h>

#include <algorithm>

namespace pulsewright {
namespace {

/// Intervals in ms that touch, all normal.
Intervals normal_intervals(const std::vector<double>& values) {
  Intervals result;
  double t = 0.0;
  for (const double ms : values) {
    result.intervals.push_back({Seconds{t}, Seconds{t + ms / 1000.0}, ms, IntervalVerdict::normal, ms, 0, 1});
    t += ms / 1000.0;
  }
  result.duration = Seconds{t};
  return result;
}

const std::vector<double> worked_example{800, 810, 790, 860, 800, 900, 780, 820, 815, 805};

bool has_reason(const Variability& v, const std::string& measure) {
  return std::any_of(v.reasons.begin(), v.reasons.end(), [&](const Reason& r) { return r.measure == measure; });
}

TEST(Variability, AgreesWithTheWorkedExampleOfTenIntervals) {
  // Derived by arithmetic from the definitions of Task Force of ESC/NASPE 1996, Circulation 93:1043. SDSD: the squares of the differences add
  // up to 35125 and their mean is 5/9, so it is sqrt((35125 - 25/9) / 8).
  const Variability v = variability(normal_intervals(worked_example));
  EXPECT_EQ(v.nn_count, 10);
  EXPECT_EQ(v.difference_count, 9);
  EXPECT_DOUBLE_EQ(v.mean_nn_ms.value(), 818.0);
  EXPECT_NEAR(v.sdnn_ms.value(), 35.916570, 5e-7);
  EXPECT_NEAR(v.rmssd_ms.value(), 62.472216, 5e-7);
  EXPECT_NEAR(v.sdsd_ms.value(), 66.259171, 5e-7);
  EXPECT_EQ(v.nn50_count, 4);
  EXPECT_NEAR(v.pnn50_percent.value(), 400.0 / 9.0, 1e-12);
  EXPECT_NEAR(v.mean_hr_bpm.value(), 73.349633, 5e-7);
  EXPECT_EQ(v.min_nn_ms, 780.0);
  EXPECT_EQ(v.max_nn_ms, 900.0);
  EXPECT_EQ(v.flagged_percent, 0.0);
  EXPECT_TRUE(v.reasons.empty());
}

TEST(Variability, ADifferenceOfExactlyFiftyMillisecondsIsNotCounted) {
  // 0.85 - 0.80 is not 0.05 in binary.
  EXPECT_EQ(variability(normal_intervals({1000.0 * 0.80, 1000.0 * 0.85, 1000.0 * 0.80})).nn50_count, 0);
  EXPECT_EQ(variability(normal_intervals({800.0, 850.001, 800.0})).nn50_count, 2);
}

TEST(Variability, ARateThatMovesFromMinuteToMinuteOrIsFastIsNotTakenForRest) {
  const auto noted = [](const std::vector<double>& values) {
    const Variability v = variability(normal_intervals(values));
    return std::any_of(v.warnings.begin(), v.warnings.end(), [](const Warning& w) { return w.code == "not_at_rest"; });
  };
  const auto minutes = [](std::initializer_list<double> rates) {
    std::vector<double> values;
    for (const double bpm : rates) values.insert(values.end(), static_cast<std::size_t>(bpm), 60000.0 / bpm);
    return values;
  };
  EXPECT_FALSE(noted(minutes({70, 75, 80})));  // 10 of 75: 13 %
  EXPECT_TRUE(noted(minutes({70, 80, 90})));   // 20 of 80: 25 %
  EXPECT_FALSE(noted(minutes({100, 100})));    // not above 100
  EXPECT_TRUE(noted(minutes({102})));          // one minute is enough to see a fast rate
  EXPECT_FALSE(noted(worked_example));         // 8 s are no minute
  std::vector<double> swings;                  // strong breathing within each minute does not move the minutes
  for (int i = 0; i < 300; ++i) swings.push_back(i % 6 < 3 ? 700.0 : 950.0);
  EXPECT_FALSE(noted(swings));
}

TEST(Variability, AConstantSeriesHasNoSpread) {
  const Variability v = variability(normal_intervals(std::vector<double>(20, 750.0)));
  EXPECT_EQ(v.sdnn_ms, 0.0);
  EXPECT_EQ(v.rmssd_ms, 0.0);
  EXPECT_EQ(v.sdsd_ms, 0.0);
  EXPECT_EQ(v.nn50_count, 0);
  EXPECT_EQ(v.mean_hr_bpm, 80.0);
}

TEST(Variability, WithoutBeatsEveryMeasureIsAbsentAndHasItsReason) {
  const Variability v = variability(Intervals{});
  for (const char* measure : {"mean_nn_ms", "sdnn_ms", "rmssd_ms", "sdsd_ms", "nn50_count", "pnn50_percent",
                              "mean_hr_bpm", "min_nn_ms", "max_nn_ms", "flagged_percent"})
    EXPECT_TRUE(has_reason(v, measure)) << measure;
  EXPECT_EQ(v.reasons.size(), 10u);
  EXPECT_FALSE(v.mean_nn_ms || v.sdnn_ms || v.rmssd_ms || v.sdsd_ms || v.nn50_count || v.pnn50_percent ||
               v.mean_hr_bpm || v.min_nn_ms || v.max_nn_ms || v.flagged_percent);
}

TEST(Variability, OneIntervalIsTooFewForEveryMeasure) {
  const Variability v = variability(normal_intervals({800.0}));
  EXPECT_EQ(v.nn_count, 1);
  EXPECT_EQ(v.flagged_percent, 0.0);
  EXPECT_FALSE(v.mean_nn_ms);
  EXPECT_FALSE(v.rmssd_ms);
  EXPECT_EQ(v.reasons.size(), 9u);
}

TEST(Variability, TwoIntervalsHaveOneDifferenceAndNoSpreadOfDifferences) {
  const Variability v = variability(normal_intervals({800.0, 860.0}));
  EXPECT_DOUBLE_EQ(v.rmssd_ms.value(), 60.0);
  EXPECT_EQ(v.nn50_count, 1);
  EXPECT_EQ(v.pnn50_percent, 100.0);
  EXPECT_FALSE(v.sdsd_ms);
  ASSERT_EQ(v.reasons.size(), 1u);
  EXPECT_EQ(v.reasons[0].measure, "sdsd_ms");
}

TEST(Variability, NothingIsGivenWhenTooMuchIsFlaggedAndTheReasonNamesBothShares) {
  Intervals intervals = normal_intervals(worked_example);
  for (const std::size_t i : {2u, 5u, 7u}) intervals.intervals[i].verdict = IntervalVerdict::misplaced;
  const Variability v = variability(intervals);
  EXPECT_DOUBLE_EQ(v.flagged_percent.value(), 30.0);
  EXPECT_FALSE(v.mean_nn_ms || v.sdnn_ms || v.rmssd_ms);
  ASSERT_TRUE(has_reason(v, "sdnn_ms"));
  EXPECT_NE(v.reasons[0].reason.find("30.0 %"), std::string::npos);
  EXPECT_NE(v.reasons[0].reason.find("20 %"), std::string::npos);
  VariabilityOptions lenient;
  lenient.most_flagged_percent = 30.0;
  EXPECT_TRUE(variability(intervals, lenient).sdnn_ms);
}

TEST(Variability, DifferencesAreTakenOnlyBetweenMeasuredIntervalsThatTouch) {
  Intervals intervals = normal_intervals({800, 810, 820, 2000, 700, 720, 740, 760, 780, 800});
  intervals.intervals[3].verdict = IntervalVerdict::gap;
  intervals.intervals[3].corrected_ms.reset();
  const Variability v = variability(intervals);
  EXPECT_EQ(v.nn_count, 9);
  EXPECT_EQ(v.difference_count, 7);  // 10 10 | 20 20 20 20 20
  EXPECT_NEAR(v.rmssd_ms.value(), std::sqrt((2 * 100.0 + 5 * 400.0) / 7.0), 1e-12);
}

TEST(Variability, AMergedExtraBeatCountsAsTheMeasuredIntervalItIs) {
  Intervals split = normal_intervals({800, 300, 510, 790, 860, 800, 900, 780, 820, 815, 805});
  split.intervals[1].verdict = split.intervals[2].verdict = IntervalVerdict::extra_beat;
  split.intervals[1].corrected_ms = 810.0;
  split.intervals[1].merged_rows = 2;
  split.intervals[2].corrected_ms.reset();
  const Variability v = variability(split);
  EXPECT_EQ(v.nn_count, 10);
  EXPECT_NEAR(v.sdnn_ms.value(), 35.916570, 5e-7);
  EXPECT_NEAR(v.rmssd_ms.value(), 62.472216, 5e-7);
}

TEST(Variability, AddingAConstantMovesTheMeanAndNoSpread) {
  std::vector<double> shifted = worked_example;
  for (double& v : shifted) v += 128.0;
  const Variability a = variability(normal_intervals(worked_example));
  const Variability b = variability(normal_intervals(shifted));
  EXPECT_NEAR(*b.mean_nn_ms, *a.mean_nn_ms + 128.0, 1e-9);
  EXPECT_NEAR(*b.sdnn_ms, *a.sdnn_ms, 1e-9);
  EXPECT_NEAR(*b.rmssd_ms, *a.rmssd_ms, 1e-9);
}

}  // namespace
}  // namespace pulsewright
