/// Effort of real people sitting, walking and jogging (Howell & Porr, University of Glasgow, CC BY 3.0).
#include <gtest/gtest.h>

#include <cstdio>

#include "activity_people.hpp"
#include "pulsewright/pipeline.hpp"
#include "pulsewright/session.hpp"

namespace pulsewright {
namespace {

std::optional<RateSeries> rates_of(int person, const char* activity) {
  auto beats = activity::beats_of(person, activity);
  if (!beats) return std::nullopt;
  return analyze(std::move(*beats), Person{}).rates;
}

TEST(ActivityEffort, MeanAndPeakEffortRiseFromSittingToWalkingToJoggingInEveryoneWhoDidAllThree) {
  if (!activity::folder()) GTEST_SKIP() << "skipped: no folder activity_beats among the open recordings";
  int compared = 0;
  for (int person = 0; person < activity::people; ++person) {
    const auto sitting = rates_of(person, "sitting"), walking = rates_of(person, "walking"),
               jogging = rates_of(person, "jogging");
    if (!sitting || !walking || !jogging) continue;
    ++compared;
    Person known;
    known.age_years = 25;  // the people were students; the order does not depend on it
    known.resting = 60_bpm;
    const SessionEffort rest = study_session(*sitting, known), walk = study_session(*walking, known),
                        jog = study_session(*jogging, known);
    EXPECT_LT(*rest.effort.mean_reserve_percent, *walk.effort.mean_reserve_percent) << person;
    EXPECT_LT(*walk.effort.mean_reserve_percent, *jog.effort.mean_reserve_percent) << person;
    EXPECT_LT(*rest.load->impulse_men, *jog.load->impulse_men) << person;
    if (walk.peak && jog.peak) {  // one jog has no half minute measured throughout
      EXPECT_LT(walk.peak->rate, jog.peak->rate) << person;
    }
  }
  std::printf("people compared: %d\n", compared);
  EXPECT_GE(compared, 20);
}

}  // namespace
}  // namespace pulsewright
