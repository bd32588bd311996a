/// Intervals over many recordings: delays, records that belong to different hearts, people, groups.
#include "pulsewright/interval_study.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "pulsewright/beat_study.hpp"
#include "pulsewright/error.hpp"

namespace pulsewright {
namespace {

/// Beats of a heart at 75 a minute whose intervals vary by 40 ms.
BeatTrain heart(std::uint64_t seed, int count = 200) {
  std::mt19937_64 bits(seed);
  std::normal_distribution<double> normal;
  BeatTrain train;
  double time = 1;
  for (int i = 0; i < count; ++i) {
    Beat beat;
    beat.time = Seconds{time};
    beat.confidence = 1;
    train.candidates.push_back(beat);
    time += 0.8 + 0.04 * normal(bits);
  }
  train.duration = Seconds{time};
  return train;
}

/// The same beats as a pulse so much later, with a jitter of 5 ms.
BeatTrain pulse_of(const BeatTrain& heart, double late_s, std::uint64_t seed = 9) {
  std::mt19937_64 bits(seed);
  std::normal_distribution<double> normal;
  BeatTrain pulse = heart;
  pulse.source = BeatSource::pulse;
  for (Beat& beat : pulse.candidates) beat.time += Seconds{late_s + 0.005 * normal(bits)};
  pulse.duration += Seconds{late_s};
  return pulse;
}

TEST(UsualDelay, IsThatOfThePulseAndNotOneBeatLess) {
  for (const double late_s : {-0.2, 0.0, 0.25, 0.64}) {
    const auto delay = usual_delay(heart(1), pulse_of(heart(1), late_s));
    ASSERT_TRUE(delay);
    EXPECT_NEAR(delay->value(), late_s, 0.005);
  }
}

TEST(UsualDelay, IsNoneBetweenStrangers) { EXPECT_FALSE(usual_delay(heart(1), heart(2))); }

ComparedIntervals compared(const std::string& person, const std::string& condition, std::uint64_t seed) {
  IntervalRecord record;
  record.facts.name = person + "_" + condition;
  record.facts.person = person;
  record.facts.condition = condition;
  record.reference = heart(seed);
  record.test = pulse_of(record.reference, 0.3, seed + 1000);
  record.one_clock = true;
  return compare_intervals(record);
}

TEST(CompareIntervals, LeavesOutARecordOfTwoHearts) {
  IntervalRecord record;
  record.reference = heart(1);
  record.test = heart(2);
  record.one_clock = true;
  const ComparedIntervals found = compare_intervals(record);
  EXPECT_EQ(found.reached, FlowStage::readable);
  EXPECT_NE(found.left_out.find("cannot be told to belong"), std::string::npos) << found.left_out;
}

TEST(CompareIntervals, CountsNothingMissedWhereTheTestWasNotThere) {
  IntervalRecord record;
  record.reference = heart(1, 400);
  record.test = pulse_of(heart(1, 200), 0.3);
  record.test.duration -= Seconds{0.4};  // it ended between two beats
  record.one_clock = true;
  EXPECT_EQ(compare_intervals(record).agreement.beats.false_negatives, 0);
}

TEST(IntervalStudy, HasLimitsForSeveralRecordsOfAPerson) {
  std::vector<ComparedIntervals> records;
  for (std::uint64_t k = 0; k < 6; ++k)
    for (const char* condition : {"sitting", "lying"})
      records.push_back(compared("person " + std::to_string(k), condition, 10 * k + (condition[0] == 's' ? 1 : 2)));
  const IntervalStudy study = interval_study(std::move(records));
  EXPECT_EQ(study.overall.intervals.people, 6U);
  ASSERT_TRUE(study.overall.intervals.repeated);
  // Jitter of 5 ms at both ends of an interval.
  EXPECT_NEAR(study.overall.intervals.repeated->limits.sd, 5 * std::sqrt(2.0), 0.3);
  EXPECT_EQ(study.overall.at_rest, 12U);
  for (const MeasureStudy& measure : study.overall.measures) EXPECT_EQ(measure.agreement.pairs, 12U) << measure.measure;
  const auto& conditions = study.breakdowns.front();
  EXPECT_EQ(conditions.by, "condition");
  ASSERT_EQ(conditions.groups.size(), 2U);
  EXPECT_EQ(conditions.groups[1].name, "lying");
  EXPECT_EQ(conditions.groups[1].records, 6U);
}

TEST(IntervalStudy, OfNothingSaysNothing) {
  IntervalRecord unread;
  unread.unreadable = "no such file";
  const IntervalStudy study = interval_study({compare_intervals(unread)});
  EXPECT_EQ(study.overall.recorded, 1U);
  EXPECT_EQ(study.overall.records, 0U);
  EXPECT_FALSE(study.overall.missed_percent());
  EXPECT_FALSE(study.overall.intervals.bias);
  EXPECT_EQ(interval_study({}).overall.recorded, 0U);
}

TEST(BeatGroups, PoolTheRecordsThatShareAFact) {
  std::vector<RecordFacts> facts(3);
  facts[0].condition = facts[2].condition = "rest";
  facts[1].condition = "walking";
  const BeatAgreement one = match_beats(heart(1), heart(1));
  const std::vector<BeatAgreement> records(3, one);
  const auto groups = beat_groups(facts, records);
  ASSERT_EQ(groups.size(), 2U);
  EXPECT_EQ(groups[0].name, "rest");
  EXPECT_EQ(groups[0].agreement.true_positives, 400);
  EXPECT_EQ(groups[1].records, 1U);
  EXPECT_THROW(static_cast<void>(beat_groups(facts, {})), Error);
}

}  // namespace
}  // namespace pulsewright
