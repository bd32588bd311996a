#include "pulsewright/variability.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "made_series.hpp"

namespace pulsewright {
namespace {

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
  EXPECT_EQ(v.nn20_count, 5);  // 60, 100, 120, 70, 40 ms are more than 20 ms; -20 is not
  EXPECT_NEAR(v.pnn20_percent.value(), 500.0 / 9.0, 1e-12);
  EXPECT_NEAR(v.cv_percent.value(), 100.0 * 35.916570 / 818.0, 1e-6);
  EXPECT_FALSE(has_reason(v, "sdnn_ms") || has_reason(v, "rmssd_ms") || has_reason(v, "sdsd_ms"));
}

TEST(Variability, EachAbsentMeasureHasOneReasonAndNoPresentOneHas) {
  for (const std::size_t n : {0u, 1u, 2u, 10u, 250u, 2500u}) {
    std::vector<double> values;
    for (std::size_t i = 0; i < n; ++i) values.push_back(worked_example[i % 10] + static_cast<double>(i % 7));
    const Variability v = variability(normal_intervals(values));
    std::set<std::string> measures;
    for (const Reason& reason : v.reasons)
      EXPECT_TRUE(measures.insert(reason.measure).second) << n << " twice: " << reason.measure;
    const auto check = [&](const char* key, bool present) { EXPECT_NE(has_reason(v, key), present) << n << key; };
    check("sdnn_ms", v.sdnn_ms.has_value());
    check("sdann_ms", v.sdann_ms.has_value());
    check("tinn_ms", v.tinn_ms.has_value());
    check("ulf_power_ms2", v.power.ulf_power_ms2.has_value());
    check("lf_power_ms2", v.power.lf_power_ms2.has_value());
    check("lf_peak_hz", v.power.lf_peak_hz.has_value());
    check("total_power_ms2", v.power.total_power_ms2.has_value());
    check("sample_entropy", v.sample_entropy.has_value());
    check("alpha2", v.alpha2.has_value());
  }
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

TEST(Variability, ALongConstantSeriesHasNoPowerAndNoScaling) {
  const Variability v = variability(normal_intervals(std::vector<double>(3000, 750.0)));
  for (const BandPowers& powers : v.spectra) {
    EXPECT_NEAR(powers.lf_power_ms2.value(), 0.0, 1e-12) << to_string(powers.method);
    EXPECT_FALSE(powers.lf_hf_ratio) << to_string(powers.method);
  }
  EXPECT_FALSE(v.alpha1 || v.sample_entropy || v.approximate_entropy || v.sd1_sd2_ratio || v.lengthening_percent);
  EXPECT_EQ(v.tinn_ms, 2000.0 / 128.0);  // all in one bin: the feet are the bins beside it
  EXPECT_EQ(v.triangular_index, 1.0);
  for (const char* key : {"alpha1", "sample_entropy", "lf_hf_ratio", "sd1_sd2_ratio"}) EXPECT_TRUE(has_reason(v, key));
}

TEST(Variability, ThreeMinutesGiveNoSdannAndFiveMinutesNoUlf) {
  const Variability three = variability(normal_intervals(swinging(800, 30, 0.1, 225)));
  EXPECT_FALSE(three.sdann_ms || three.sdnn_index_ms || three.triangular_index || three.tinn_ms);
  EXPECT_TRUE(has_reason(three, "sdann_ms") && has_reason(three, "tinn_ms"));
  EXPECT_TRUE(three.power.lf_power_ms2);
  EXPECT_FALSE(three.power.vlf_power_ms2);
  const Variability one = variability(normal_intervals(swinging(800, 30, 0.1, 80)));
  EXPECT_TRUE(one.power.hf_power_ms2);
  EXPECT_FALSE(one.power.lf_power_ms2 || one.power.lf_hf_ratio || one.power.total_power_ms2);
  const Variability five = variability(normal_intervals(swinging(800, 30, 0.1, 376)));
  EXPECT_TRUE(five.power.vlf_power_ms2);
  EXPECT_FALSE(five.power.ulf_power_ms2);
}

TEST(Variability, SdannIsTheSpreadOfFiveMinuteMeansAndTheIndexTheMeanOfTheirSpreads) {
  std::vector<double> values;  // eight stretches of 300 s, the interval alternating by 20 ms about 600, 800, 1000, ...
  for (const double mean : {600.0, 800.0, 1000.0, 750.0, 600.0, 800.0, 1000.0, 750.0})
    for (int i = 0; i < 300000 / mean; ++i) values.push_back(mean + (i % 2 == 0 ? 20.0 : -20.0));
  const Variability v = variability(normal_intervals(values));
  // Means 600, 800, 1000, 750 twice: mean 787.5, squares 2 (187.5^2 + 12.5^2 + 212.5^2 + 37.5^2) = 163750 over 7.
  EXPECT_NEAR(v.sdann_ms.value(), std::sqrt(163750.0 / 7.0), 0.05);
  EXPECT_NEAR(v.sdnn_index_ms.value(), 20.0, 0.05);  // 20 sqrt(n / (n - 1))
}

TEST(Variability, TheTriangleFitsATriangleAndItsIndexIsTheCountOverTheHighestBin) {
  // Bins of 1/128 s around 800 ms with 1 2 3 4 5 6 5 4 3 2 1 hundreds of intervals: the flanks meet zero in the next bin.
  constexpr double bin = 1000.0 / 128.0;
  std::vector<double> values;
  for (int k = -5; k <= 5; ++k)
    values.insert(values.end(), static_cast<std::size_t>(600 - 100 * std::abs(k)), (102.5 + k) * bin);
  const Variability v = variability(normal_intervals(values));
  EXPECT_DOUBLE_EQ(v.triangular_index.value(), 3600.0 / 600.0);
  EXPECT_DOUBLE_EQ(v.tinn_ms.value(), 12.0 * bin);
}

TEST(Variability, ExtremesAreMeanRatesOverTheStatedWindow) {
  std::vector<double> values(60, 1000.0);
  values.insert(values.end(), 40, 500.0);
  values[30] = 1400.0;
  const Variability v = variability(normal_intervals(values));
  EXPECT_DOUBLE_EQ(v.highest_hr_bpm.value(), 120.0);
  EXPECT_DOUBLE_EQ(v.lowest_hr_bpm.value(), 60000.0 * 10 / 10400.0);  // nine beats of 1000 ms and the long one
  EXPECT_EQ(v.max_nn_ms, 1400.0);
}

TEST(Variability, WindowsStandEveryStepAndHoldTheIntervalsThatLieInside) {
  Intervals intervals = normal_intervals(swinging(800, 30, 0.1, 1002));  // 801 s
  const auto windows = sliding_variability(intervals, {Seconds{300.0}, Seconds{100.0}});
  ASSERT_EQ(windows.size(), 6u);
  EXPECT_EQ(windows[5].span, (Span{Seconds{500.0}, Seconds{800.0}}));
  for (const VariabilityWindow& window : windows) {
    EXPECT_NEAR(window.result.nn_count, 375, 3);
    EXPECT_NEAR(window.result.sdnn_ms.value(), 30.0 / std::sqrt(2.0), 0.5);
  }
  EXPECT_THROW((void)sliding_variability(intervals, {Seconds{0.0}, Seconds{1.0}}), Error);
  EXPECT_TRUE(sliding_variability(Intervals{}).empty());
}

TEST(Variability, WithoutBeatsEveryMeasureIsAbsentAndHasItsReason) {
  const Variability v = variability(Intervals{});
  for (const char* measure : {"mean_nn_ms", "sdnn_ms", "rmssd_ms", "sdsd_ms", "nn50_count", "pnn50_percent",
                              "mean_hr_bpm", "min_nn_ms", "max_nn_ms", "flagged_percent"})
    EXPECT_TRUE(has_reason(v, measure)) << measure;
  EXPECT_FALSE(v.mean_nn_ms || v.sdnn_ms || v.rmssd_ms || v.sdsd_ms || v.nn50_count || v.pnn50_percent ||
               v.mean_hr_bpm || v.min_nn_ms || v.max_nn_ms || v.flagged_percent);
}

TEST(Variability, OneIntervalIsTooFewForEveryMeasure) {
  const Variability v = variability(normal_intervals({800.0}));
  EXPECT_EQ(v.nn_count, 1);
  EXPECT_EQ(v.flagged_percent, 0.0);
  EXPECT_FALSE(v.mean_nn_ms);
  EXPECT_FALSE(v.rmssd_ms);
  EXPECT_TRUE(has_reason(v, "mean_nn_ms") && has_reason(v, "rmssd_ms"));
}

TEST(Variability, TwoIntervalsHaveOneDifferenceAndNoSpreadOfDifferences) {
  const Variability v = variability(normal_intervals({800.0, 860.0}));
  EXPECT_DOUBLE_EQ(v.rmssd_ms.value(), 60.0);
  EXPECT_EQ(v.nn50_count, 1);
  EXPECT_EQ(v.pnn50_percent, 100.0);
  EXPECT_FALSE(v.sdsd_ms);
  EXPECT_FALSE(v.sd1_ms || v.ellipse_area_ms2);
  EXPECT_TRUE(has_reason(v, "sdsd_ms") && has_reason(v, "sd1_ms"));
  EXPECT_FALSE(has_reason(v, "rmssd_ms"));
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

/// A train without every `nth` beat, as a detector would miss them.
BeatTrain without_every(std::size_t nth, const std::vector<double>& values) {
  BeatTrain train;
  double t = 0.0;
  for (std::size_t i = 0; i < values.size(); ++i) {
    t += values[i] / 1000.0;
    if (i % nth == nth / 2) continue;
    Beat beat;
    beat.time = Seconds{t};
    beat.verdict = BeatVerdict::accepted;
    train.candidates.push_back(beat);
  }
  train.duration = Seconds{t + 1.0};
  return train;
}

TEST(Variability, MissedBeatsLeaveLessErrorInRmssdThanLeavingTheirDifferencesOut) {
  double error = 0.0, error_left_out = 0.0;
  constexpr std::uint32_t series = 40;
  for (std::uint32_t seed = 1; seed <= series; ++seed) {
    std::vector<double> values = swinging(850.0, 30.0, 0.25, 150);  // breathing 15 times a minute
    const std::vector<double> noise = white_noise(values.size(), seed);
    for (std::size_t i = 0; i < values.size(); ++i) values[i] += 8.0 * noise[i];
    const double truth = *variability(normal_intervals(values)).rmssd_ms;
    const Intervals cleaned = clean(without_every(20, values));
    double squares = 0.0, pairs = 0.0;
    const std::vector<NormalInterval> normal = normal_series(cleaned);
    for (std::size_t i = 1; i < normal.size(); ++i) {
      if (normal[i].replaced || normal[i - 1].replaced) continue;
      squares += (normal[i].ms - normal[i - 1].ms) * (normal[i].ms - normal[i - 1].ms);
      pairs += 1.0;
    }
    VariabilityOptions lenient;
    lenient.most_flagged_percent = 50.0;
    error += std::abs(*variability(cleaned, lenient).rmssd_ms / truth - 1.0) / series;
    error_left_out += std::abs(std::sqrt(squares / pairs) / truth - 1.0) / series;
  }
  EXPECT_LT(error, 0.7 * error_left_out);
  EXPECT_LT(error,
            0.02);  // the accuracy after correction that Lipponen & Tarvainen 2019, J Med Eng Technol 43:173, report
}

TEST(Variability, AnExpectedDifferenceStepsFromOneNeighbourToTheOther) {
  // A straight climb by 2 ms a beat: whatever is missing, every difference is 2 ms, and their spread is nothing.
  std::vector<double> values;
  for (int i = 0; i < 120; ++i) values.push_back(700.0 + 2.0 * i);
  const Variability v = variability(clean(without_every(20, values)));
  EXPECT_NEAR(*v.rmssd_ms, 2.0, 0.01);
  EXPECT_NEAR(*v.sdsd_ms, 0.0, 0.1);
  EXPECT_NEAR(*v.sd1_ms, *v.sdsd_ms / std::sqrt(2.0), 1e-12);
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
