#include <gtest/gtest.h>

#include <initializer_list>
#include <vector>

#include "pulsewright/agreement.hpp"

namespace {

using namespace pulsewright;

BeatTrain train(std::initializer_list<double> times, double duration = 100) {
  BeatTrain beats;
  beats.duration = Seconds{duration};
  for (const double t : times) beats.candidates.emplace_back().time = Seconds{t};
  return beats;
}

TEST(MatchBeats, CountsAPairWithinTheToleranceAsTrueAndTheRestAsMissedOrExtra) {
  const BeatAgreement a = match_beats(train({1, 2, 3, 4}), train({1.01, 2.2, 3.149, 9}));
  EXPECT_EQ(a.true_positives, 2);
  EXPECT_EQ(a.false_negatives, 2);
  EXPECT_EQ(a.false_positives, 2);
  EXPECT_EQ(a.missed, (std::vector<Seconds>{Seconds{2}, Seconds{4}}));
  EXPECT_EQ(a.extra, (std::vector<Seconds>{Seconds{2.2}, Seconds{9}}));
}

TEST(MatchBeats, GivesTheClosestPairPrecedence) {
  // The test beat at 1.10 is nearer to the second reference beat; the first finds none.
  const BeatAgreement a = match_beats(train({1.00, 1.12}), train({1.10}));
  ASSERT_EQ(a.true_positives, 1);
  EXPECT_NEAR(a.error_ms[0], -20, 1e-9);
  EXPECT_EQ(a.missed, (std::vector<Seconds>{Seconds{1.00}}));
}

TEST(MatchBeats, NeverUsesABeatTwice) {
  const BeatAgreement a = match_beats(train({1.0}), train({0.95, 1.02, 1.08}));
  EXPECT_EQ(a.true_positives, 1);
  EXPECT_EQ(a.false_positives, 2);
}

TEST(MatchBeats, KeepsTimeOrderRatherThanCrossingPairs) {
  // After 0.995 takes 1.00, matching 0.95 with 1.01 would cross; so one is missed and one extra.
  const BeatAgreement a = match_beats(train({1.00, 1.01}), train({0.95, 0.995}));
  EXPECT_EQ(a.true_positives, 1);
  EXPECT_EQ(a.false_negatives, 1);
  EXPECT_EQ(a.false_positives, 1);
}

TEST(MatchBeats, IgnoresRejectedCandidates) {
  BeatTrain test = train({1, 2});
  test.candidates[1].verdict = BeatVerdict::repolarisation;
  const BeatAgreement a = match_beats(train({1}), test);
  EXPECT_EQ(a.true_positives, 1);
  EXPECT_EQ(a.false_positives, 0);
}

TEST(MatchBeats, LeavesOutTheLearningTimeAtTheStart) {
  MatchOptions options;
  options.skip = Seconds{5};
  const BeatAgreement a = match_beats(train({1, 2, 6, 7}), train({1.5, 6, 8}), options);
  EXPECT_EQ(a.true_positives, 1);
  EXPECT_EQ(a.false_negatives, 1);
  EXPECT_EQ(a.false_positives, 1);
  EXPECT_DOUBLE_EQ(a.scored.value(), 95);
}

TEST(MatchBeats, LeavesOutExcludedSpansAndPrintsTheirLengthOnceWhereTheyOverlap) {
  MatchOptions options;
  options.exclude = {{Seconds{10}, Seconds{20}}, {Seconds{15}, Seconds{25}}};
  const BeatAgreement a = match_beats(train({9, 12, 30}), train({9, 14, 30, 40}), options);
  EXPECT_EQ(a.true_positives, 2);
  EXPECT_EQ(a.false_negatives, 0);
  EXPECT_EQ(a.false_positives, 1);
  EXPECT_DOUBLE_EQ(a.excluded.value(), 15);
  EXPECT_DOUBLE_EQ(a.scored.value(), 85);
}

TEST(MatchBeats, CountsAPairThatStraddlesAnEdgeForTheReferenceBeat) {
  MatchOptions options;
  options.exclude = {{Seconds{10}, Seconds{20}}};
  EXPECT_EQ(match_beats(train({9.95}), train({10.05}), options).true_positives, 1);
  const BeatAgreement inside = match_beats(train({10.05}), train({9.95}), options);
  EXPECT_EQ(inside.true_positives + inside.false_negatives + inside.false_positives, 0);
}

TEST(MatchBeats, LeavesOutExcludedBeatsBeyondTheEndOfBothButCountsNoTimeThere) {
  MatchOptions options;
  options.exclude = {{Seconds{0}, Seconds{1000}}};
  const BeatAgreement a = match_beats(train({5, 10}, 10), train({5, 12}, 10), options);
  EXPECT_EQ(a.true_positives + a.false_negatives + a.false_positives, 0);
  EXPECT_DOUBLE_EQ(a.excluded.value(), 10);
  EXPECT_DOUBLE_EQ(a.scored.value(), 0);
}

TEST(MatchBeats, ReportsTimeDeclaredUnreadableOutsideExcludedSpans) {
  BeatTrain test = train({1});
  test.unreadable = {{Seconds{8}, Seconds{12}}, {Seconds{50}, Seconds{51}}};
  MatchOptions options;
  options.exclude = {{Seconds{10}, Seconds{20}}};
  EXPECT_DOUBLE_EQ(match_beats(train({1}), test, options).unreadable.value(), 3);
}

TEST(MatchBeats, LeavesRatiosOfNothingUndefined) {
  const BeatAgreement none = match_beats(train({}), train({}));
  EXPECT_FALSE(none.sensitivity_percent().has_value());
  EXPECT_FALSE(none.positive_predictivity_percent().has_value());
  EXPECT_FALSE(none.f1_percent().has_value());
  EXPECT_FALSE(none.error_rate_percent().has_value());
  EXPECT_FALSE(none.bias_ms().has_value());
  EXPECT_FALSE(none.sd_ms().has_value());
  EXPECT_FALSE(none.p95_absolute_ms().has_value());
}

TEST(MatchBeats, RefusesAToleranceThatIsNotPositive) {
  MatchOptions options;
  options.tolerance = Seconds{0};
  EXPECT_THROW(static_cast<void>(match_beats(train({1}), train({1}), options)), Error);
}

TEST(BeatAgreement, ComputesItsRatiosFromTheCounts) {
  // Hamilton & Tompkins 1986, IEEE TBME 33:1157 [from memory]: 109,267 beats, 340 missed, 248 extra: Se 99.69, +P 99.77, DER 0.54 %.
  BeatAgreement a;
  a.true_positives = 109267 - 340;
  a.false_negatives = 340;
  a.false_positives = 248;
  EXPECT_NEAR(*a.sensitivity_percent(), 99.69, 0.005);
  EXPECT_NEAR(*a.positive_predictivity_percent(), 99.77, 0.005);
  EXPECT_NEAR(*a.error_rate_percent(), 0.54, 0.005);
}

TEST(BeatAgreement, ComputesTimingErrorByHand) {
  BeatAgreement a;
  a.error_ms = {-10, 0, 10, 20};
  EXPECT_DOUBLE_EQ(*a.bias_ms(), 5);
  EXPECT_NEAR(*a.sd_ms(), 12.909944, 1e-6);  // sqrt(500 / 3)
  EXPECT_DOUBLE_EQ(*a.p95_absolute_ms(), 20);
}

TEST(Pool, AddsCountsTimesAndErrors) {
  const std::vector<BeatAgreement> records = {match_beats(train({1, 2}), train({1.01})),
                                              match_beats(train({5}), train({5, 6}))};
  const BeatAgreement gross = pool(records, "gross");
  EXPECT_EQ(gross.name, "gross");
  EXPECT_EQ(gross.true_positives, 2);
  EXPECT_EQ(gross.false_negatives, 1);
  EXPECT_EQ(gross.false_positives, 1);
  EXPECT_EQ(gross.error_ms.size(), 2U);
  EXPECT_DOUBLE_EQ(gross.scored.value(), 200);
}

TEST(SweepTolerance, RisesFromTheTightestToTheWidestTolerance) {
  const BeatTrain reference = train({1, 2, 3, 4});
  const std::vector<SweepPoint> sweep = sweep_tolerance(reference, train({1.005, 2.020, 3.060, 4.140}));
  ASSERT_EQ(sweep.size(), 8U);
  EXPECT_DOUBLE_EQ(sweep.front().tolerance.value(), 0.008);
  EXPECT_DOUBLE_EQ(*sweep.front().f1_percent, 25);
  EXPECT_DOUBLE_EQ(*sweep[3].f1_percent, 50);  // 32 ms
  EXPECT_DOUBLE_EQ(*sweep[5].f1_percent, 75);  // 75 ms
  EXPECT_DOUBLE_EQ(sweep.back().tolerance.value(), 0.150);
  EXPECT_DOUBLE_EQ(*sweep.back().f1_percent, 100);
}

}  // namespace
