/// Resting rate by pulse count, and how it reads.
#include "pulsewright/resting.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace pulsewright {
namespace {

TEST(RestingCount, OneBeatIsWorthWhatCommonPracticeSays) {
  // Common practice: 10 s x 6, 15 s x 4, 20 s x 3, 30 s x 2, 60 s.
  const std::pair<int, double> worths[] = {{10, 6}, {15, 4}, {20, 3}, {30, 2}, {60, 1}};
  for (const auto& [seconds, worth] : worths) {
    const CountedResting counted = counted_resting({seconds, Seconds{1.0 * seconds}, CountStart::any_moment});
    EXPECT_DOUBLE_EQ(counted.per_beat.value(), worth);
    EXPECT_DOUBLE_EQ(counted.rate.value(), 60.0);
  }
  EXPECT_EQ(counted_resting({17, 15.0_s, CountStart::any_moment}).rate, 68_bpm);
}

TEST(RestingCount, RoundingErrorsAreThoseOfTheCheckValues) {
  // Derived by arithmetic from the definition of a count.
  const int seconds[] = {10, 15, 20, 30, 60};
  const double bias[] = {-3, -2, -1.5, -1, -0.5}, rms_on_beat[] = {3.46, 2.31, 1.73, 1.15, 0.58},
               rms_any[] = {2.45, 1.63, 1.22, 0.82, 0.41};
  for (int k = 0; k < 5; ++k) {
    const CountedResting on_beat = counted_resting({seconds[k], Seconds{1.0 * seconds[k]}, CountStart::on_a_beat});
    EXPECT_DOUBLE_EQ(on_beat.bias_bpm, bias[k]);
    EXPECT_NEAR(on_beat.rms_error_bpm, rms_on_beat[k], 0.005);
    const CountedResting any = counted_resting({seconds[k], Seconds{1.0 * seconds[k]}, CountStart::any_moment});
    EXPECT_DOUBLE_EQ(any.bias_bpm, 0.0);
    EXPECT_NEAR(any.rms_error_bpm, rms_any[k], 0.005);
  }
}

TEST(RestingCount, CountingAtRandomReallyHasThoseErrors) {
  // Many hearts, many moments: a count of the beats inside 15 s against the true rate.
  for (const CountStart start : {CountStart::on_a_beat, CountStart::any_moment}) {
    double sum = 0, square = 0;
    int n = 0;
    for (double interval = 0.60; interval < 1.10; interval += 0.000371)
      for (double phase = 0.005; phase < 1; phase += 0.01) {
        const double first = start == CountStart::on_a_beat ? interval : phase * interval;
        const double beats = first > 15.0 ? 0.0 : std::floor((15.0 - first) / interval) + 1.0;
        const double error = 4.0 * beats - 60.0 / interval;
        sum += error;
        square += error * error;
        ++n;
      }
    const CountedResting stated = counted_resting({17, 15.0_s, start});
    EXPECT_NEAR(sum / n, stated.bias_bpm, 0.05);
    EXPECT_NEAR(std::sqrt(square / n), stated.rms_error_bpm, 0.05);
  }
}

TEST(RestingCount, RefusesOtherTimesAndRatesOfNoHeart) {
  EXPECT_THROW((void)counted_resting({12, 12.0_s, CountStart::any_moment}), Error);
  EXPECT_THROW((void)counted_resting({0, 15.0_s, CountStart::any_moment}), Error);
  EXPECT_THROW((void)counted_resting({100, 15.0_s, CountStart::any_moment}), Error);
}

TEST(RestingReading, ByCommonPracticeChangesAtTheStatedBeats) {
  // Common practice for adolescents and adults: up to 50, 51-71, 72-84, 85 and over; a rate is read to the nearest beat.
  using enum RestingReading;
  const std::pair<double, RestingReading> edges[] = {
      {50.4, highly_trained}, {50.5, trained}, {71.4, trained}, {71.5, average},
      {84.4, average},        {84.5, high},    {120, high}};
  for (const auto& [bpm, reading] : edges)
    EXPECT_EQ(compare_resting(BeatsPerMinute{bpm}, 40).common_practice, reading) << bpm;
}

TEST(RestingReading, StandsBesideTheCentilesOfTheAge) {
  // Fleming et al. 2011, Lancet 377:1011, from memory: 12-15 years 62/78/96, 15-18 years 58/73/92.
  const RestingComparison young = compare_resting(86_bpm, 13);
  EXPECT_EQ(young.common_practice, RestingReading::high);
  EXPECT_EQ(young.place, CentilePlace::from_50th_to_90th);  // high by the one, quite usual by the other
  EXPECT_EQ(young.centiles->middle, 78_bpm);
  EXPECT_EQ(compare_resting(86_bpm, 15).centiles->ninetieth, 92_bpm);
  EXPECT_EQ(compare_resting(57_bpm, 16).place, CentilePlace::below_10th);
  EXPECT_EQ(compare_resting(97_bpm, 14).place, CentilePlace::above_90th);
  EXPECT_FALSE(compare_resting(66_bpm, 40).centiles);
  EXPECT_FALSE(compare_resting(66_bpm, std::nullopt).place);
  const std::string words = describe(young);
  EXPECT_NE(words.find("Fleming et al. 2011"), std::string::npos);
  EXPECT_NE(words.find("common practice"), std::string::npos);
  EXPECT_NE(words.find("usual"), std::string::npos);
}

}  // namespace
}  // namespace pulsewright
