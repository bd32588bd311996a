/// Effort of real people sitting, walking and jogging (Howell & Porr, University of Glasgow, CC BY 3.0).
#include <gtest/gtest.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "pulsewright/pipeline.hpp"
#include "pulsewright/session.hpp"

namespace pulsewright {
namespace {

constexpr Hertz clock_rate{250.0};  // of the R-peak sample numbers
constexpr int people = 25;

std::filesystem::path folder() {
  const char* named = std::getenv("PULSEWRIGHT_DATA");
  const std::filesystem::path data = named
                                         ? std::filesystem::path{named}
                                         : std::filesystem::path{PULSEWRIGHT_SOURCE_DIR} / ".." / "shared" / "datasets";
  return data / "activity_beats";
}

/// Rates of one person from the chest strap, from the limb leads where there is no strap; nothing when neither was recorded.
std::optional<RateSeries> rates_of(int person, const char* activity) {
  for (const char* leads : {"cs", "cables"}) {
    char name[96];
    std::snprintf(name, sizeof name, "subject_%02d__%s__annotation_%s.tsv", person, activity, leads);
    std::ifstream file(folder() / name);
    BeatTrain train;
    for (double sample = 0; file >> sample;) {
      Beat beat;
      beat.sample = SampleIndex{static_cast<std::int64_t>(sample)};
      beat.time = time_of(beat.sample, clock_rate);
      beat.confidence = 1.0;
      if (train.candidates.empty() || train.candidates.back().time < beat.time) train.candidates.push_back(beat);
    }
    constexpr std::size_t fewest = 30;
    if (train.candidates.size() < fewest) continue;
    train.duration = train.candidates.back().time + 500_ms;
    return analyze(std::move(train), Person{}).rates;
  }
  return std::nullopt;
}

TEST(ActivityEffort, MeanAndPeakEffortRiseFromSittingToWalkingToJoggingInEveryoneWhoDidAllThree) {
  if (!std::filesystem::is_directory(folder()))
    GTEST_SKIP() << "skipped: no folder activity_beats among the open recordings";
  int compared = 0;
  for (int person = 0; person < people; ++person) {
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
