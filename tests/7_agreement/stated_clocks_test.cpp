/// Two recordings that say at what time of day they begin.
#include "pulsewright/stated_clocks.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "pulsewright/clean.hpp"
#include "pulsewright/interval_study.hpp"
#include "pulsewright/rate_study.hpp"
#include "pulsewright/simulate.hpp"

namespace pulsewright {
namespace {

/// The beats of a stair-climb as a device notes them that is switched on `late_s` seconds after the heart's first.
BeatTrain noted_from(double late_s) {
  Scenario scene = stretched(named_scenario("stair-climb", "heron"), Seconds{900});
  scene.seed = 3;
  scene.pulse.reset();
  scene.motion.reset();
  scene.rate = Hertz{50};
  BeatTrain train = simulate(scene).truth.ecg_train(scene.rate);
  for (Beat& beat : train.candidates) beat.time -= Seconds{late_s};
  std::erase_if(train.candidates, [](const Beat& beat) { return beat.time < Seconds{0}; });
  train.duration -= Seconds{late_s};
  return train;
}

RateSide side_of(const BeatTrain& train) { return {rate_over_windows(train, clean(train)), train}; }

RateSide constant_rate(double seconds) {
  RateSide side;
  for (double start = 0; start + 8 <= seconds; start += 2) {
    RateWindow window;
    window.window = {Seconds{start}, Seconds{start + 8}};
    window.rate = BeatsPerMinute{90};
    side.rates.windows.push_back(window);
  }
  return side;
}

AlignmentOptions without_alignment() {
  AlignmentOptions options;
  options.steps = AlignmentSteps::none;
  return options;
}

bool says(const std::string& note, const char* part) { return note.find(part) != std::string::npos; }

TEST(OffsetByClocks, IsNegativeForATestThatBeginsLater) {
  EXPECT_EQ(offset_by_clocks("10:00:00", "10:01:40"), Seconds{-100});
  EXPECT_EQ(offset_by_clocks("2026-03-02T10:00:00", "2026-03-02T09:59:59.5"), Seconds{0.5});
  EXPECT_EQ(offset_by_clocks("2026-03-02T23:59:50", "2026-03-03T00:00:10"), Seconds{-20});
}

TEST(OffsetByClocks, MeansTheNearerDayWhereADateIsMissing) {
  EXPECT_EQ(offset_by_clocks("23:59:50", "00:00:10"), Seconds{-20});
  EXPECT_EQ(offset_by_clocks("2026-03-02T00:00:10", "23:59:50"), Seconds{20});
}

TEST(OffsetByClocks, CountsTimeZonesAndNeedsBothOrNone) {
  EXPECT_EQ(offset_by_clocks("2026-03-02T10:00:00Z", "2026-03-02T11:00:05+01:00"), Seconds{-5});
  EXPECT_FALSE(offset_by_clocks("2026-03-02T10:00:00Z", "2026-03-02T10:00:05"));
}

TEST(OffsetByClocks, IsNoneWithoutTwoClocks) {
  EXPECT_FALSE(offset_by_clocks(std::nullopt, "10:00:00"));
  EXPECT_FALSE(offset_by_clocks("10:00:00", std::nullopt));
  EXPECT_FALSE(offset_by_clocks("10:00:00", "ten o'clock"));
}

TEST(AlignByClocks, FindsWhatLiesBeyondTheRangeWithoutThem) {
  const RateSide reference = side_of(noted_from(0)), test = side_of(noted_from(240));
  EXPECT_TRUE(align(reference, test).refused);
  const Alignment found = align(reference, test, {}, Seconds{-240.6});  // clocks told in whole seconds
  EXPECT_EQ(found.clocks, StatedClocks::followed);
  EXPECT_NEAR(found.offset.value(), -240, 0.05);
  EXPECT_TRUE(says(found.note, "by their clocks the test began 240.60 s after the reference")) << found.note;
}

TEST(AlignByClocks, StaysWithTheClocksWhereTheRatesDemandNothingElse) {
  const Alignment found = align(side_of(noted_from(0)), side_of(noted_from(240)), {}, Seconds{-240});
  EXPECT_EQ(found.applied, AlignmentSteps::offset);
  EXPECT_EQ(found.offset, Seconds{-240});
}

TEST(AlignByClocks, TakesTheClocksAloneWhereTheRatesTellNothing) {
  const Alignment found = align(constant_rate(300), constant_rate(300), {}, Seconds{-60});
  EXPECT_FALSE(found.refused);
  EXPECT_EQ(found.clocks, StatedClocks::followed);
  EXPECT_EQ(found.offset, Seconds{-60});
  EXPECT_FALSE(found.found_offset);
  EXPECT_TRUE(says(found.note, "the rates cannot tell")) << found.note;
}

TEST(AlignByClocks, FollowsRatesThatSayOtherwiseAndSaysSo) {
  const RateSide reference = side_of(noted_from(0));
  const Alignment near = align(reference, side_of(noted_from(240)), {}, Seconds{-245});
  EXPECT_EQ(near.clocks, StatedClocks::contradicted);
  EXPECT_NEAR(near.offset.value(), -240, 0.05);
  // A clock that is hours off: as if there were none.
  const Alignment far = align(reference, side_of(noted_from(12)), {}, Seconds{-18012});
  EXPECT_EQ(far.clocks, StatedClocks::contradicted);
  EXPECT_NEAR(far.offset.value(), -12, 0.05);
  EXPECT_TRUE(says(far.note, "by their rates the test began 12.0")) << far.note;
}

TEST(AlignByClocks, DoesNotApplyClocksThatLeaveNothingInCommon) {
  const Alignment found = align(constant_rate(300), constant_rate(300), {}, Seconds{-3600});
  EXPECT_TRUE(found.refused);
  EXPECT_EQ(found.clocks, StatedClocks::contradicted);
  EXPECT_EQ(found.offset, Seconds{0});
}

TEST(AlignByClocks, IsOffWhenNotAskedFor) {
  const Alignment found = align(constant_rate(300), constant_rate(300), without_alignment(), Seconds{-60});
  EXPECT_EQ(found.clocks, StatedClocks::unstated);
  EXPECT_EQ(found.offset, Seconds{0});
}

TEST(CompareIntervals, StartsFromTheClocks) {
  IntervalRecord record;
  record.reference = noted_from(0);
  record.test = noted_from(240);
  record.by_clocks = Seconds{-240.6};
  const ComparedIntervals found = compare_intervals(record);
  EXPECT_EQ(found.reached, FlowStage::analysed);
  EXPECT_NEAR(found.offset.value(), -240, 0.01);
  EXPECT_EQ(found.agreement.warnings.back().code, "by_clocks");
  IntervalStudyOptions by_hand;
  by_hand.offset = Seconds{-239.9};
  EXPECT_EQ(compare_intervals(record, by_hand).offset, Seconds{-239.9});
}

TEST(RateStudy, TellsOfClocksThatTheRatesContradict) {
  StudyRecord record;
  record.facts.name = "climb";
  record.reference = side_of(noted_from(0));
  record.test = side_of(noted_from(240));
  record.by_clocks = Seconds{-245};
  const RateStudy study = rate_study({compare_record(record)});
  EXPECT_TRUE(std::any_of(study.warnings.begin(), study.warnings.end(),
                          [](const Warning& w) { return w.code == "clocks_contradicted"; }));
  EXPECT_LT(*study.records.front().mean_absolute_error, 0.3);
}

}  // namespace
}  // namespace pulsewright
