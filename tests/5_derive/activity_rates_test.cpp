/// Real beat series of people at rest and in exercise (Howell & Porr, University of Glasgow, CC BY 3.0).
#include <gtest/gtest.h>

#include <cstdio>

#include "activity_people.hpp"
#include "pulsewright/rate.hpp"
#include "pulsewright/variability.hpp"

namespace pulsewright {
namespace {

using activity::beats_of;
using activity::development_people;
using activity::people;

double mean_rate(const BeatTrain& train) { return variability(clean(train)).mean_hr_bpm.value(); }

class ActivityBeats : public testing::Test {
 protected:
  void SetUp() override {
    if (!activity::folder()) GTEST_SKIP() << "skipped: no folder activity_beats among the open recordings";
  }
};

TEST_F(ActivityBeats, MeanRateRisesFromSittingToWalkingToJoggingInEveryoneWhoDidAllThree) {
  int compared = 0;
  for (int person = 0; person < people; ++person) {
    const auto sitting = beats_of(person, "sitting");
    const auto walking = beats_of(person, "walking");
    const auto jogging = beats_of(person, "jogging");
    if (!sitting || !walking || !jogging) continue;
    ++compared;
    EXPECT_LT(mean_rate(*sitting), mean_rate(*walking)) << "person " << person;
    EXPECT_LT(mean_rate(*walking), mean_rate(*jogging)) << "person " << person;
  }
  EXPECT_GE(compared, 20);
}

TEST_F(ActivityBeats, HardlyAnythingIsFlaggedAtRestOfTheDevelopmentPeople) {
  std::size_t rows = 0, flagged = 0;
  for (int person = 0; person < development_people; ++person) {
    const auto train = beats_of(person, "sitting");
    if (!train) continue;
    for (const Interval& row : clean(*train).intervals) {
      ++rows;
      if (row.verdict != IntervalVerdict::normal) ++flagged;
    }
  }
  EXPECT_GT(rows, 1500u);
  EXPECT_LE(static_cast<double>(flagged), 0.005 * static_cast<double>(rows));
}

TEST_F(ActivityBeats, EveryRemovedBeatIsFoundAgainAndNoWindowGivesAWrongRateForIt) {
  int removed = 0, found = 0;
  for (int person = 0; person < development_people; ++person) {
    for (const char* activity : {"sitting", "walking", "jogging"}) {
      const auto whole = beats_of(person, activity);
      if (!whole) continue;
      BeatTrain train = *whole;
      const std::size_t at = train.candidates.size() / 2 + static_cast<std::size_t>(person);
      train.candidates.erase(train.candidates.begin() + static_cast<std::ptrdiff_t>(at));
      const Intervals intervals = clean(train);
      ++removed;
      found += intervals.intervals[at - 1].verdict == IntervalVerdict::missed_beat;
      const RateSeries truth = rate_over_windows(*whole, clean(*whole));
      const RateSeries rates = rate_over_windows(train, intervals);
      ASSERT_EQ(truth.windows.size(), rates.windows.size());
      for (std::size_t w = 0; w < rates.windows.size(); ++w) {
        if (!rates.windows[w].rate || !truth.windows[w].rate || *rates.windows[w].confidence < 0.9) continue;
        EXPECT_NEAR(rates.windows[w].rate->value(), truth.windows[w].rate->value(), 5.0) << person << " " << activity;
      }
    }
  }
  EXPECT_GT(removed, 25);
  EXPECT_EQ(found, removed);
}

}  // namespace
}  // namespace pulsewright
