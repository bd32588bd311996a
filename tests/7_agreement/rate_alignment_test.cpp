/// Alignment against known clocks, and pairs on common windows.
#include "pulsewright/rate_study.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "pulsewright/clean.hpp"
#include "pulsewright/simulate.hpp"

namespace pulsewright {
namespace {

/// The R peaks of a person as a device with such a clock counts them, from `shift` seconds on.
BeatTrain beats_of(const char* scenario, double duration_s, double clock_ppm, double shift_s, std::uint64_t seed = 3) {
  Scenario scene = stretched(named_scenario(scenario, "heron"), Seconds{duration_s});
  scene.seed = seed;
  scene.pulse.reset();
  scene.motion.reset();
  scene.rate = Hertz{50};
  scene.clock.error_ppm = clock_ppm;
  BeatTrain train = simulate(scene).truth.ecg_train(scene.rate);
  for (Beat& beat : train.candidates) beat.time += Seconds{shift_s};
  std::erase_if(train.candidates, [](const Beat& beat) { return beat.time < Seconds{0}; });
  train.duration += Seconds{shift_s};
  return train;
}

/// The beats as somebody noted them, 15 ms off, some missing.
BeatTrain noted(const BeatTrain& train) { return observe(train, {.seed = 8}); }

RateSide side_of(BeatTrain train) {
  RateSide side;
  side.rates = rate_over_windows(train, clean(train));
  side.beats = std::move(train);
  return side;
}

/// Rates alone, as a device shows them.
RateSide rates_of(const BeatTrain& train) {
  RateSide side = side_of(train);
  side.beats.reset();
  return side;
}

RateSide readings(const std::vector<double>& rates, double window_s, double step_s) {
  RateSide side;
  for (std::size_t i = 0; i < rates.size(); ++i) {
    RateWindow window;
    window.window = {Seconds{step_s * static_cast<double>(i)}, Seconds{step_s * static_cast<double>(i) + window_s}};
    window.rate = BeatsPerMinute{rates[i]};
    side.rates.windows.push_back(window);
  }
  return side;
}

/// Windows of a cheap device: it misses a share of the beats, notices nothing, and divides all the same.
RateSide missing_beats(const BeatTrain& train, double missed_share, std::uint64_t seed = 5) {
  std::mt19937_64 bits(seed);
  std::vector<double> kept;
  for (const Seconds time : train.times())
    if (static_cast<double>(bits()) >= missed_share * static_cast<double>(std::mt19937_64::max()))
      kept.push_back(time.value());
  RateSide side;
  for (double start = 0; start + 8 <= train.duration.value(); start += 2) {
    const auto from = std::lower_bound(kept.begin(), kept.end(), start),
               to = std::lower_bound(from, kept.end(), start + 8);
    RateWindow window;
    window.window = {Seconds{start}, Seconds{start + 8}};
    if (to - from > 2) {
      window.rate = BeatsPerMinute{60.0 * static_cast<double>(to - from - 1) / (*(to - 1) - *from)};
      window.method = RateMethod::device;
    }
    side.rates.windows.push_back(window);
  }
  return side;
}

enum class Known { beats_of_both, beats_of_the_reference, beats_of_the_test, rates_alone };

struct ClockCase {
  const char* name;
  const char* scenario;
  double duration_s, ppm, shift_s;
  Known known;
  double missed_share = 0;   ///< by the test
  double drift_within = 10;  ///< ppm
};

class KnownClocks : public ::testing::TestWithParam<ClockCase> {};

TEST_P(KnownClocks, OffsetIsFoundWithinTwoTenthsAndDriftWithinTenPpm) {
  const ClockCase& c = GetParam();
  const BeatTrain truth = beats_of(c.scenario, c.duration_s, 0, 0);
  const BeatTrain other = beats_of(c.scenario, c.duration_s, c.ppm, c.shift_s);
  const bool reference_beats = c.known == Known::beats_of_both || c.known == Known::beats_of_the_reference;
  const bool test_beats = c.known == Known::beats_of_both || c.known == Known::beats_of_the_test;
  const RateSide reference = reference_beats ? side_of(truth) : rates_of(truth);
  const RateSide test = test_beats           ? side_of(noted(other))
                        : c.missed_share > 0 ? missing_beats(other, c.missed_share)
                                             : rates_of(other);
  const Alignment found = align(reference, test, {.only_where_demanded = false});
  ASSERT_FALSE(found.refused) << found.note;
  const double at_middle = c.shift_s + 1e-6 * c.ppm * c.duration_s / 2;
  RecordProperty("offset_error_s", std::to_string(found.found_offset->value() - at_middle));
  EXPECT_NEAR(found.found_offset->value(), at_middle, 0.2);
  if (c.duration_s >= 3600) {
    ASSERT_TRUE(found.found_drift_ppm) << found.note;
    RecordProperty("drift_error_ppm", std::to_string(*found.found_drift_ppm - c.ppm));
    EXPECT_NEAR(*found.found_drift_ppm, c.ppm, c.drift_within);
  }
}

// From rates alone an hour tells a drift to some 20 ppm and four hours to some 3: its standard error falls with the duration to the power of 1.5.
INSTANTIATE_TEST_SUITE_P(
    Clocks, KnownClocks,
    ::testing::Values(ClockCase{"BeatsOfAnHourAtRest", "rest", 3600, 40, 7.3, Known::beats_of_both},
                      ClockCase{"BeatsOfAnHourSlowClock", "rest", 3600, -250, -12.6, Known::beats_of_both},
                      ClockCase{"BeatsOfTwoHoursSameClock", "rest", 7200, 0, 0, Known::beats_of_both},
                      ClockCase{"BeatsOfAStairClimb", "stair-climb", 600, 0, 4.25, Known::beats_of_both},
                      ClockCase{"RatesAgainstReferenceBeats", "rest", 3600, 90, 5.5, Known::beats_of_the_reference},
                      ClockCase{"BeatsAgainstReferenceRates", "rest", 3600, -90, -5.5, Known::beats_of_the_test},
                      ClockCase{"RatesOfTenMinutes", "stair-climb", 600, 0, -3.5, Known::rates_alone},
                      ClockCase{"RatesOfAnHour", "rest", 3600, 0, 5.5, Known::rates_alone, 0, 60},
                      ClockCase{"RatesOfFourHours", "rest", 14400, 30, 5.5, Known::rates_alone, 0, 10},
                      ClockCase{"MissedBeatsInExercise", "stair-climb", 480, 0, 3.3, Known::rates_alone, 0.02},
                      ClockCase{"MissedBeatsAgainstReferenceBeats", "stair-climb", 480, 0, 3.3,
                                Known::beats_of_the_reference, 0.02}),
    [](const auto& clock) { return std::string(clock.param.name); });

TEST(Align, IsRefusedForTwoPeople) {
  const Alignment found = align(side_of(beats_of("rest", 600, 0, 0, 3)), side_of(beats_of("rest", 600, 0, 0, 4)));
  EXPECT_TRUE(found.refused);
  EXPECT_NE(found.note.find("correlat"), std::string::npos) << found.note;
  EXPECT_EQ(found.applied, AlignmentSteps::none);
  EXPECT_EQ(found.offset.value(), 0);
}

TEST(Align, IsRefusedWithAReasonWhenThereIsNothingToGoBy) {
  const RateSide beats = side_of(beats_of("rest", 600, 0, 0));
  const std::vector<double> constant(300, 70.0);
  EXPECT_NE(align(beats, readings(constant, 8, 2)).note.find("does not vary"), std::string::npos);
  const RateSide brief = side_of(beats_of("rest", 40, 0, 0));
  EXPECT_NE(align(beats, brief).note.find("in common"), std::string::npos);
  EXPECT_NE(align(beats, RateSide{}).note.find("in common"), std::string::npos);
}

TEST(Align, IsRefusedWhenTheOffsetLiesBeyondTheRange) {
  AlignmentOptions near;
  near.farthest = Seconds{5};
  // One climb: a single hump of the rate, which fits nowhere within 5 s.
  std::vector<double> hump;
  for (int i = 0; i < 300; ++i) hump.push_back(80 + 40 * std::exp(-(i - 150) * (i - 150) / 800.0));
  RateSide late = readings(hump, 1, 1);
  for (RateWindow& w : late.rates.windows) w.window = {w.window.start + Seconds{12}, w.window.end + Seconds{12}};
  EXPECT_TRUE(align(readings(hump, 1, 1), late, near).refused);
  EXPECT_NEAR(align(readings(hump, 1, 1), late).offset.value(), 12, 0.2);
}

TEST(Align, FindsNoSecondBestOfAPeriodicCourse) {
  // A rate that swings evenly, 10 s a turn, fits itself every 10 s.
  std::vector<double> swing;
  for (int i = 0; i < 900; ++i) swing.push_back(80 + 10 * std::sin(0.2 * 3.14159265358979 * i));
  const Alignment found = align(readings(swing, 1, 1), readings(swing, 1, 1));
  EXPECT_TRUE(found.refused);
  EXPECT_NE(found.note.find("another offset"), std::string::npos) << found.note;
}

TEST(Align, IsOffWhenNotAskedFor) {
  AlignmentOptions none;
  none.steps = AlignmentSteps::none;
  const BeatTrain beats = beats_of("rest", 600, 0, 0);
  EXPECT_EQ(align(side_of(beats), side_of(beats), none).note, "not asked for");
}

TEST(Align, RefusesADeviceThatMissesSomethingInMostOfItsWindows) {
  const BeatTrain truth = beats_of("stair-climb", 480, 0, 0);
  const Alignment found = align(side_of(truth), missing_beats(beats_of("stair-climb", 480, 0, 3.3), 0.08));
  EXPECT_TRUE(found.refused);
  EXPECT_NE(found.note.find("correlate"), std::string::npos) << found.note;
}

TEST(Align, AppliesNoOffsetThatTheDataDoNotDemand) {
  // The same clock, a pulse's 0.25 s behind, seen over windows only: found, told, and left alone, because rates over 8 s hardly notice.
  const RateSide reference = rates_of(beats_of("rest", 900, 0, 0)),
                 test = missing_beats(beats_of("rest", 900, 0, 0.1), 0.02);
  const Alignment found = align(reference, test);
  EXPECT_FALSE(found.refused);
  EXPECT_EQ(found.applied, AlignmentSteps::none);
  EXPECT_EQ(found.offset.value(), 0);
  ASSERT_TRUE(found.found_offset && found.offset_error && found.gain_bpm && found.gain_error_bpm);
  EXPECT_NEAR(found.found_offset->value(), 0.1, 0.1);
  EXPECT_NE(found.note.find("not applied"), std::string::npos) << found.note;
  EXPECT_EQ(align(reference, test, {.only_where_demanded = false}).applied, AlignmentSteps::offset);
}

TEST(Align, AppliesAnOffsetThatTheDataDemand) {
  const Alignment found =
      align(rates_of(beats_of("stair-climb", 480, 0, 0)), missing_beats(beats_of("stair-climb", 480, 0, 4), 0.02));
  EXPECT_EQ(found.applied, AlignmentSteps::offset);
  EXPECT_GT(*found.gain_bpm, 2 * *found.gain_error_bpm);
}

TEST(Align, TellsStandardErrorsThatHold) {
  // Rates alone, forty hearts: the offset lies within two standard errors in most.
  int held = 0, answered = 0;
  for (std::uint64_t k = 0; k < 40; ++k) {
    const Alignment found = align(rates_of(beats_of("stair-climb", 480, 0, 0, 300 + k)),
                                  missing_beats(beats_of("stair-climb", 480, 0, 2.7, 300 + k), 0.01, k));
    if (found.refused) continue;
    ++answered;
    held += std::abs(found.found_offset->value() - 2.7) <= 2 * found.offset_error->value() ? 1 : 0;
  }
  RecordProperty("answered_of_40", answered);
  RecordProperty("held", held);
  EXPECT_GE(answered, 36);
  EXPECT_GE(held, 0.8 * answered);
}

TEST(Align, ComparesADeviceThatReadsOffARateEverySecondWithBeats) {
  const BeatTrain truth = beats_of("stair-climb", 480, 0, 0);
  const RateSide rates = rates_of(truth);
  // The rate of the last 8 s, once a second.
  RateSide device;
  for (const RateWindow& window : rates.rates.windows)
    for (int second = 0; second < 2; ++second) {
      RateWindow reading = window;
      reading.window = {window.window.end + Seconds{static_cast<double>(second)},
                        window.window.end + Seconds{1.0 + second}};
      reading.method = RateMethod::device;
      device.rates.windows.push_back(reading);
    }
  const Alignment found = align(side_of(truth), device);
  ASSERT_FALSE(found.refused) << found.note;
  EXPECT_NEAR(found.found_offset->value(), 5.0, 0.5);  // 4 s of averaging, half of the 2 s that a reading stands
}

TEST(Align, RarelyFindsAnOffsetBetweenStrangers) {
  // Forty pairs of people who have nothing to do with each other, eight minutes each.
  int accepted = 0;
  for (std::uint64_t k = 0; k < 40; ++k) {
    const Alignment found =
        align(side_of(beats_of("rest", 480, 0, 0, 100 + k)), side_of(beats_of("rest", 480, 0, 0, 200 + k)));
    accepted += found.refused ? 0 : 1;
  }
  RecordProperty("accepted_of_40", accepted);
  EXPECT_LE(accepted, 2);
}

TEST(CompareRecord, AgreesBetterAfterAlignmentThanBefore) {
  StudyRecord record;
  record.reference = side_of(beats_of("stair-climb", 600, 0, 0));
  record.test = side_of(beats_of("stair-climb", 600, 0, 9));
  const ComparedRecord found = compare_record(record);
  EXPECT_EQ(found.reached, FlowStage::analysed);
  EXPECT_GT(*found.before_mean_absolute_error, 1.0);
  EXPECT_LT(*found.mean_absolute_error, 0.3);
}

TEST(CompareRecord, TakesOneRecordingAsOneClock) {
  StudyRecord record;
  record.reference = record.test = side_of(beats_of("rest", 300, 0, 0));
  record.one_clock = true;
  const ComparedRecord found = compare_record(record);
  EXPECT_EQ(found.alignment.applied, AlignmentSteps::none);
  EXPECT_DOUBLE_EQ(*found.mean_absolute_error, 0);
  EXPECT_EQ(found.counts.answered, found.pairs.size());
}

TEST(CompareRecord, AveragesReadingsOverTheWindowsOfTheOther) {
  // Readings 60, 61, ... once a second against windows of 4 s every 2 s that say the same.
  std::vector<double> each_second, windows;
  for (int i = 0; i < 60; ++i) each_second.push_back(60 + i);
  for (int k = 0; 2 * k + 4 <= 60; ++k) windows.push_back(60 + 2 * k + 1.5);
  StudyOptions options;
  options.alignment.steps = AlignmentSteps::none;
  StudyRecord record;
  record.reference = readings(windows, 4, 2);
  record.test = readings(each_second, 1, 1);
  ComparedRecord found = compare_record(record, options);
  EXPECT_EQ(found.counts.answered, windows.size());
  EXPECT_NEAR(*found.mean_absolute_error, 0, 1e-9);
  std::swap(record.reference, record.test);
  found = compare_record(record, options);
  EXPECT_NEAR(*found.mean_absolute_error, 0, 1e-9);
}

TEST(CompareRecord, ReadsBetweenTheTestsWindowsWhereTheyDoNotCoincide) {
  std::vector<double> rising;
  for (int i = 0; i < 40; ++i) rising.push_back(60 + 2 * i);
  StudyOptions options;
  options.alignment.steps = AlignmentSteps::none;
  StudyRecord record;
  record.reference = record.test = readings(rising, 8, 2);
  for (RateWindow& w : record.test.rates.windows) w.window = {w.window.start + Seconds{1}, w.window.end + Seconds{1}};
  const ComparedRecord found = compare_record(record, options);
  EXPECT_NEAR(*found.bias, -1, 1e-9);  // a second later on a course that rises by one each second
  EXPECT_EQ(found.counts.common, 39U);
}

TEST(CompareRecord, CountsWindowsWithoutAnAnswer) {
  RateSide reference = readings(std::vector<double>(20, 70.0), 8, 8), test = reference;
  for (std::size_t i = 0; i < 5; ++i) test.rates.windows[3 * i].rate.reset();
  reference.rates.windows[19].rate.reset();
  StudyRecord record;
  record.reference = reference;
  record.test = test;
  const ComparedRecord found = compare_record(record);
  EXPECT_EQ(found.counts.reference, 20U);
  EXPECT_EQ(found.counts.reference_answered, 19U);
  EXPECT_EQ(found.counts.common, 19U);
  EXPECT_EQ(found.counts.answered, 14U);
  EXPECT_NEAR(*found.counts.missing_percent(), 100.0 * 5 / 19, 1e-9);
}

TEST(CompareRecord, LeavesOutWithAReason) {
  StudyRecord record;
  record.unreadable = "no such file";
  EXPECT_EQ(compare_record(record).left_out, "no such file");
  EXPECT_EQ(compare_record(record).reached, FlowStage::recorded);
  record.unreadable.clear();
  EXPECT_NE(compare_record(record).left_out.find("reference has no rate"), std::string::npos);

  RateSide late = readings(std::vector<double>(20, 70.0), 8, 8);
  record.reference = late;
  for (RateWindow& w : late.rates.windows) w.window = {w.window.start + Seconds{1000}, w.window.end + Seconds{1000}};
  record.test = late;
  const ComparedRecord apart = compare_record(record);
  EXPECT_NE(apart.left_out.find("no time in common"), std::string::npos);
  EXPECT_EQ(apart.reached, FlowStage::aligned);
  StudyOptions strict;
  strict.keep_unaligned = false;
  EXPECT_EQ(compare_record(record, strict).reached, FlowStage::readable);
}

TEST(CompareRecord, CountsARecordInWhichTheTestShowsNothingAsMissing) {
  StudyRecord record;
  record.reference = record.test = readings(std::vector<double>(20, 70.0), 8, 8);
  for (RateWindow& window : record.test.rates.windows) window.rate.reset();
  const ComparedRecord found = compare_record(record);
  EXPECT_EQ(found.reached, FlowStage::recorded);
  EXPECT_NEAR(*found.counts.missing_percent(), 100, 1e-12);
}

}  // namespace
}  // namespace pulsewright
