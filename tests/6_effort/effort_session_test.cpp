/// Time base and summary of sessions.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>

#include "pulsewright/effort.hpp"
#include "pulsewright/session.hpp"
#include "rate_series.hpp"

namespace pulsewright {
namespace {

bool warned(const Effort& result, const std::string& code) {
  return std::any_of(result.warnings.begin(), result.warnings.end(), [&](const Warning& w) { return w.code == code; });
}

bool has_reason(const Effort& result, const std::string& measure) {
  return std::any_of(result.reasons.begin(), result.reasons.end(),
                     [&](const Reason& r) { return r.measure == measure; });
}

std::int64_t total(const Effort& result) {
  return std::accumulate(result.category_us->begin(), result.category_us->end(), result.unmeasured_us);
}

TEST(EffortCells, TileTheRecordingWithoutOverlapInWholeMicroseconds) {
  const std::vector<EffortCell> cells = effort_cells(steady(21.5, 100.0));
  ASSERT_EQ(cells.size(), 11u);
  for (std::size_t i = 0; i < cells.size(); ++i) {
    EXPECT_EQ(cells[i].start_us, static_cast<std::int64_t>(i) * 2'000'000);
    EXPECT_EQ(cells[i].length_us, i == 10 ? 1'500'000 : 2'000'000);
  }
}

TEST(EffortCells, InterpolateBetweenWindowCentresAndFollowALineExactly) {
  const RateSeries ramp = series(60.0, 8.0, 2.0, [](double t) { return 80.0 + t; });
  for (const EffortCell& cell : effort_cells(ramp)) {
    const double centre = 1e-6 * (static_cast<double>(cell.start_us) + 0.5 * static_cast<double>(cell.length_us));
    ASSERT_TRUE(cell.rate);
    // Windows are centred at 4, 6, ..., 56 s; before and after, the nearest stands.
    EXPECT_NEAR(cell.rate->value(), 80.0 + std::clamp(centre, 4.0, 56.0), 1e-9) << centre;
  }
}

TEST(EffortCells, TakeNoRateFromAMissingWindowOrPastTheLastOne) {
  // Windows with centres at 20, 22, 24 s are missing: no rate between 18 and 26 s unless one measured neighbour covers the cell.
  const RateSeries gappy = series(61.0, 8.0, 2.0, [](double t) { return t >= 20.0 && t <= 24.0 ? -1.0 : 100.0; });
  for (const EffortCell& cell : effort_cells(gappy)) {
    const double start = static_cast<double>(cell.start_us) / 1e6;
    const bool missing = start == 20.0 || start == 22.0 || start == 60.0;
    EXPECT_EQ(cell.rate.has_value(), !missing) << start;
  }
}

TEST(EffortCells, DoNotReachOverRowsThatADeviceLeftOut) {
  RateSeries rates = series(120.0, 1.0, 1.0, [](double) { return 140.0; });
  std::erase_if(rates.windows, [](const RateWindow& w) { return w.window.start >= 30_s && w.window.start < 90_s; });
  std::int64_t measured = 0;
  for (const EffortCell& cell : effort_cells(rates)) measured += cell.rate ? cell.length_us : 0;
  EXPECT_EQ(measured, 60'000'000);
}

TEST(RatesBetween, CountTimeFromTheirOwnStartAndKeepWholeWindowsOnly) {
  const RateSeries ramp = series(300.0, 8.0, 2.0, [](double t) { return 80.0 + 0.1 * t; });
  const RateSeries part = rates_between(ramp, 61_s, 181_s);
  EXPECT_EQ(part.duration, 120_s);
  ASSERT_FALSE(part.windows.empty());
  EXPECT_EQ(part.windows.front().window.start, 1_s);  // the window that begins at 62 s
  EXPECT_DOUBLE_EQ(part.windows.front().rate->value(), 80.0 + 0.1 * 66.0);
  EXPECT_LE(part.windows.back().window.end, 120_s);
  EXPECT_EQ(rates_between(ramp, std::nullopt, std::nullopt).windows.size(), ramp.windows.size());
  EXPECT_THROW((void)rates_between(ramp, 300_s, std::nullopt), Error);
}

TEST(EffortCells, RefuseAStepThatIsNoTime) {
  RateSeries rates = steady(20.0, 100.0);
  rates.options.step = Seconds{0.0};
  EXPECT_THROW((void)effort_cells(rates), Error);
}

TEST(EffortCells, AnEmptyRecordingHasNone) { EXPECT_TRUE(effort_cells(steady(0.0, 100.0)).empty()); }

TEST(LowestStableRate, IsTheMeanOfTheLowestFullyMeasuredMinute) {
  const RateSeries rates = series(300.0, 8.0, 2.0, [](double t) {
    return t < 100.0 ? 90.0 : t < 200.0 ? 62.0 : 120.0;
  });
  const RestingRate lowest = lowest_stable_rate(rates).value();
  EXPECT_DOUBLE_EQ(lowest.rate.value(), 62.0);
  EXPECT_EQ(lowest.source, RestingSource::lowest_minute);
  EXPECT_EQ(lowest.where->length(), 60_s);
  EXPECT_GE(lowest.where->start, 98_s);
  EXPECT_LE(lowest.where->end, 202_s);
}

TEST(LowestStableRate, DoesNotBridgeMissingTime) {
  const RateSeries rates = series(300.0, 8.0, 2.0, [](double t) {
    if (t > 140.0 && t < 160.0) return -1.0;
    return t > 100.0 && t < 200.0 ? 62.0 : 90.0;
  });
  // The low stretches on both sides of the hole last 38 to 42 s only, so a minute includes some of the 90.
  EXPECT_GT(lowest_stable_rate(rates)->rate.value(), 65.0);
}

TEST(LowestStableRate, ARateOnItsWayDownIsNotRest) {
  // Falls by 20 beats/min a minute to the end, where it is lowest; the level stretch before stands higher.
  const RateSeries rates =
      series(240.0, 8.0, 2.0, [](double t) { return t < 120.0 ? 90.0 : 90.0 - (t - 120.0) / 3.0; });
  EXPECT_NEAR(lowest_stable_rate(rates)->rate.value(), 88.0, 2.0);
}

TEST(LowestStableRate, IsUnknownInASessionShorterThanItsLength) {
  EXPECT_FALSE(lowest_stable_rate(steady(58.0, 70.0)));
  EXPECT_TRUE(lowest_stable_rate(steady(60.0, 70.0)));
  EXPECT_THROW((void)lowest_stable_rate(steady(60.0, 70.0), 0_s), Error);
}

TEST(Effort, AHandComputedSessionIsAccountedToTheSecond) {
  // Rest 66, maximum 205, reserve 139. Reserve fractions of 66+0.2*139, 66+0.5*139, 66+0.7*139, 66+0.95*139.
  const RateSeries rates = series(240.0, 2.0, 2.0, [](double t) {
    return 66.0 + 139.0 * (t < 60.0 ? 0.2 : t < 120.0 ? 0.5 : t < 200.0 ? 0.7 : 0.95);
  });
  const Effort result = effort(rates, wren());
  EXPECT_EQ(result.duration_us, 240'000'000);
  EXPECT_EQ(result.unmeasured_us, 0);
  EXPECT_EQ(*result.category_us, (std::array<std::int64_t, 5>{60'000'000, 0, 60'000'000, 80'000'000, 40'000'000}));
  EXPECT_EQ(result.below_target_us, 120'000'000);
  EXPECT_EQ(result.in_target_us, 80'000'000);
  EXPECT_EQ(result.above_target_us, 40'000'000);
  const double fraction = (0.2 * 60 + 0.5 * 60 + 0.7 * 80 + 0.95 * 40) / 240.0;
  EXPECT_NEAR(result.mean_reserve_percent.value(), 100.0 * fraction, 1e-9);
  EXPECT_NEAR(result.mean_rate->value(), 66.0 + 139.0 * fraction, 1e-9);
  EXPECT_NEAR(result.peak_rate->value(), 66.0 + 139.0 * 0.95, 1e-9);
  EXPECT_TRUE(result.reasons.empty());
}

TEST(Effort, ARateExactlyAtABoundBelongsToTheUpperCategoryAndToTheTarget) {
  // 149.4 is 60 % of the reserve of 139 above 66 (Karvonen et al. 1957), though not in binary.
  const Effort at = effort(steady(60.0, 149.4), wren());
  EXPECT_EQ((*at.category_us)[3], 60'000'000);
  EXPECT_EQ(at.in_target_us, 60'000'000);
  const Effort below = effort(steady(60.0, 149.39), wren());
  EXPECT_EQ((*below.category_us)[2], 60'000'000);
  EXPECT_EQ(below.below_target_us, 60'000'000);
  EXPECT_EQ(effort(steady(60.0, 184.15), wren()).in_target_us, 60'000'000);
  EXPECT_EQ(effort(steady(60.0, 184.16), wren()).above_target_us, 60'000'000);
}

TEST(Effort, TimeIsCutWhereTheRateCrossesABoundAndNotAtTheEndOfACell) {
  // 100 beats/min rising by one every two seconds. Of the reserve of 139 above 66, 30 % is 107.7, reached at 15.4 s; 40 % at 43.2 s; 60 % at 98.8 s; 85 % at
  // 168.3 s; 90 % at 182.2 s.
  const RateSeries ramp = series(200.0, 8.0, 2.0, [](double t) { return 100.0 + 0.5 * t; });
  const SessionEffort session = study_session(ramp, wren());
  const double cuts[] = {0.0, 15.4, 43.2, 98.8, 182.2, 200.0};
  for (std::size_t i = 0; i < intensity_count; ++i)
    EXPECT_NEAR(static_cast<double>((*session.effort.category_us)[i]), 1e6 * (cuts[i + 1] - cuts[i]), 2.0) << i;
  EXPECT_NEAR(static_cast<double>(*session.effort.in_target_us), 69.5e6, 2.0);
  EXPECT_NEAR(static_cast<double>(*session.effort.above_target_us), 31.7e6, 2.0);
  EXPECT_NEAR(session.longest_in_target->length().value(), 69.5, 1e-5);
  EXPECT_NEAR(session.longest_moderate->start.value(), 43.2, 1e-5);
  EXPECT_NEAR(session.longest_moderate->end.value(), 200.0, 1e-5);
  // The same downhill.
  const RateSeries fall = series(200.0, 8.0, 2.0, [](double t) { return 200.0 - 0.5 * t; });
  EXPECT_NEAR(static_cast<double>(*effort(fall, wren()).in_target_us), 69.5e6, 2.0);
}

TEST(Effort, TimesAddUpExactlyToTheDurationForAnyWindowStepDurationAndGaps) {
  std::mt19937 random(11);
  const auto uniform = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(random()) / 4294967296.0;
  };
  for (int round = 0; round < 300; ++round) {
    const double duration = uniform(0.0, 400.0);
    const RateSeries rates = series(duration, uniform(0.5, 20.0), uniform(0.05, 15.0),
                                    [&](double) { return random() % 3 == 0 ? -1.0 : uniform(40.0, 220.0); });
    const Effort result = effort(rates, wren());
    EXPECT_EQ(result.duration_us, std::llround(duration * 1e6));
    EXPECT_EQ(total(result), result.duration_us);
    EXPECT_EQ(*result.below_target_us + *result.in_target_us + *result.above_target_us + result.unmeasured_us,
              result.duration_us);
    std::int64_t at = 0;
    for (const EffortCell& cell : effort_cells(rates)) {
      EXPECT_EQ(cell.start_us, at);
      EXPECT_GT(cell.length_us, 0);
      at += cell.length_us;
    }
    EXPECT_EQ(at, result.duration_us);
  }
}

TEST(Effort, WithoutAgeRatesAreReportedAndTheRestIsAbsentWithReasons) {
  Person heron;
  heron.code = "heron";
  const Effort result = effort(steady(120.0, 75.0), heron);
  EXPECT_DOUBLE_EQ(result.mean_rate->value(), 75.0);
  EXPECT_DOUBLE_EQ(result.peak_rate->value(), 75.0);
  EXPECT_FALSE(result.maximum || result.target || result.category_us || result.in_target_us ||
               result.mean_reserve_percent);
  for (const char* measure : {"maximum_hr_bpm", "target", "category_s", "in_target_s", "mean_reserve_percent"})
    EXPECT_TRUE(has_reason(result, measure)) << measure;
}

TEST(Effort, ARestingRateFoundInTheSessionIsStatedAsSuch) {
  Person person = wren();
  person.resting.reset();
  const RateSeries rates = series(300.0, 8.0, 2.0, [](double t) { return t < 100.0 ? 70.0 : 150.0; });
  const Effort result = effort(rates, person);
  EXPECT_EQ(result.resting->source, RestingSource::lowest_minute);
  EXPECT_DOUBLE_EQ(result.resting->rate.value(), 70.0);
  EXPECT_TRUE(result.target->from_reserve);
  // first of the warnings, because target and categories lean on it
  ASSERT_FALSE(result.warnings.empty());
  EXPECT_EQ(result.warnings.front().code, "resting_from_session");
  EXPECT_LE(result.warnings.front().message.size(), 180u);
}

TEST(Effort, ALowestMinuteThatIsNoRestIsNotTakenAndShareOfTheMaximumServes) {
  Person person = wren();
  person.resting.reset();
  const Effort result = effort(steady(300.0, 140.0), person);
  EXPECT_FALSE(result.resting);
  EXPECT_TRUE(warned(result, "no_resting_rate"));
  EXPECT_TRUE(warned(result, "by_share_of_maximum"));
  EXPECT_FALSE(result.target->from_reserve);
  EXPECT_FALSE(result.categories_from_reserve);
  EXPECT_EQ((*result.category_us)[2], 300'000'000);  // 140 of 205 is 68 %: moderate
  EXPECT_TRUE(has_reason(result, "mean_reserve_percent"));
}

TEST(Effort, ALowestMinuteAboveAnOldPersonsMaximumIsNoErrorAndNoRest) {
  Person plover;
  plover.age_years = 90;
  plover.measured_maximum = 90_bpm;
  const Effort result = effort(steady(120.0, 95.0), plover);
  EXPECT_FALSE(result.resting);
  EXPECT_TRUE(warned(result, "above_measured_maximum"));
}

TEST(Effort, AGivenRestingRateNotBelowTheMaximumIsRefused) {
  Person person = wren();
  person.resting = 210_bpm;
  EXPECT_THROW((void)effort(steady(60.0, 100.0), person), Error);
  person.resting = 0_bpm;
  EXPECT_THROW((void)effort(steady(60.0, 100.0), person), Error);
}

TEST(Effort, APeakAboveTheAgeMaximumAsksWhetherItIsReal) {
  EXPECT_TRUE(warned(effort(steady(60.0, 206.0), wren()), "above_age_maximum"));
  EXPECT_FALSE(warned(effort(steady(60.0, 205.0), wren()), "above_age_maximum"));
}

TEST(Effort, AnEstimatedMaximumCarriesItsErrorInFewWords) {
  const Effort result = effort(steady(60.0, 120.0), wren());
  const auto warning = std::find_if(result.warnings.begin(), result.warnings.end(),
                                    [](const Warning& w) { return w.code == "estimated_maximum"; });
  ASSERT_NE(warning, result.warnings.end());
  EXPECT_NE(warning->message.find("205 beats/min"), std::string::npos);
  EXPECT_NE(warning->message.find("10 to 12"), std::string::npos);
  EXPECT_LE(warning->message.size(), 160u);
  Person person = wren();
  person.measured_maximum = 200_bpm;
  EXPECT_FALSE(warned(effort(steady(60.0, 120.0), person), "estimated_maximum"));
}

TEST(Effort, AnAgeThatNoStudyReachedIsNoted) {
  Person person = wren();
  for (const auto& [age, noted] :
       {std::pair{3.0, true}, {6.9, true}, {7.0, false}, {40.0, false}, {89.0, false}, {95.0, true}}) {
    person.age_years = age;
    const MaximumRate maximum = *maximum_rate(person);
    const Warnings warnings = maximum_warnings(person, maximum);
    const bool found =
        std::any_of(warnings.begin(), warnings.end(), [](const Warning& w) { return w.code == "age_outside_formula"; });
    EXPECT_EQ(found, noted) << age;
  }
  person.age_years = 15.0;
  EXPECT_EQ(maximum_warnings(person, *maximum_rate(person, MaximumSource::nes_2013)).back().code,
            "age_outside_formula");
  person.measured_maximum = 200_bpm;
  EXPECT_TRUE(maximum_warnings(person, *maximum_rate(person)).empty());
}

TEST(Effort, AnOwnCeilingLowersTheTargetAndTimeAboveItIsReported) {
  Person person = wren();
  person.own_ceiling = 160_bpm;
  const RateSeries rates = series(120.0, 2.0, 2.0, [](double t) { return t < 60.0 ? 155.0 : 170.0; });
  const Effort result = effort(rates, person);
  EXPECT_EQ(result.target->high, 160_bpm);
  EXPECT_EQ(result.in_target_us, 60'000'000);
  EXPECT_EQ(result.above_target_us, 60'000'000);
  EXPECT_EQ(result.above_ceiling_us, 60'000'000);
  EXPECT_TRUE(warned(result, "above_own_ceiling"));
}

TEST(Effort, AnOwnCeilingBelowTheBandLeavesNoTargetAndSaysWhy) {
  Person person = wren();
  person.own_ceiling = 130_bpm;
  const Effort result = effort(steady(60.0, 120.0), person);
  EXPECT_FALSE(result.target || result.in_target_us);
  EXPECT_TRUE(result.category_us);
  EXPECT_EQ(result.above_ceiling_us, 0);
  const auto reason =
      std::find_if(result.reasons.begin(), result.reasons.end(), [](const Reason& r) { return r.measure == "target"; });
  ASSERT_NE(reason, result.reasons.end());
  EXPECT_NE(reason->reason.find("130"), std::string::npos);
  EXPECT_NE(reason->reason.find("149"), std::string::npos);
}

TEST(Effort, ASessionOfTwentySecondsIsSummedUpWithoutARestingRateOfItsOwn) {
  Person person = wren();
  person.resting.reset();
  const Effort result = effort(steady(20.0, 100.0), person);
  EXPECT_EQ(total(result), 20'000'000);
  EXPECT_FALSE(result.resting);
  EXPECT_DOUBLE_EQ(result.mean_rate->value(), 100.0);
}

TEST(Effort, ASessionWithoutAnyRateIsUnmeasuredThroughout) {
  const Effort result = effort(series(300.0, 8.0, 2.0, [](double) { return -1.0; }), wren());
  EXPECT_EQ(result.unmeasured_us, result.duration_us);
  EXPECT_EQ(total(result), 300'000'000);
  EXPECT_FALSE(result.mean_rate || result.peak_rate || result.mean_reserve_percent);
  EXPECT_TRUE(result.target);
  EXPECT_TRUE(warned(result, "much_unmeasured"));
  for (const char* measure : {"mean_hr_bpm", "peak_hr_bpm", "mean_reserve_percent"})
    EXPECT_TRUE(has_reason(result, measure)) << measure;
}

TEST(Effort, AgesFourAndNinetyAreServed) {
  for (const double age : {4.0, 90.0}) {
    Person person = wren();
    person.age_years = age;
    const Effort result = effort(steady(120.0, 110.0), person);
    EXPECT_DOUBLE_EQ(result.maximum->rate.value(), 220.0 - age);
    EXPECT_EQ(total(result), 120'000'000);
  }
}

}  // namespace
}  // namespace pulsewright
