// Units: what they read as, how they add and compare, and the named crossings between them. Every expected value is arithmetic done by hand.
#include "pulsewright/units.hpp"

#include <gtest/gtest.h>

#include <type_traits>

namespace pulsewright {
namespace {

TEST(Literals, ReadAsTheUnitTheyName) {
  EXPECT_EQ((360_hz).value(), 360.0);
  EXPECT_EQ((0.67_hz).value(), 0.67);
  EXPECT_EQ((8_s).value(), 8.0);
  EXPECT_EQ((2.5_s).value(), 2.5);
  EXPECT_EQ((72_bpm).value(), 72.0);
  EXPECT_EQ((72.5_bpm).value(), 72.5);
}

TEST(Literals, MillisecondsAreThousandthsOfASecond) {
  EXPECT_EQ(150_ms, 0.150_s);
  EXPECT_EQ(1500_ms, 1.5_s);
  EXPECT_EQ(0.5_ms, 0.0005_s);
}

TEST(Literals, AreUsableAtCompileTime) {
  static_assert(250_ms + 750_ms == 1_s);
  static_assert(rate_of(0.5_s) == 120_bpm);
  static_assert(interval_of(60_bpm) == 1_s);
  static_assert(period(250_hz) == 4_ms);
}

TEST(Quantity, StartsAtZero) {
  EXPECT_EQ(Seconds{}, 0_s);
  EXPECT_EQ(Hertz{}.value(), 0.0);
  EXPECT_EQ(SampleIndex{}.value(), 0);
}

TEST(Quantity, AddsSubtractsAndNegatesWithinItsUnit) {
  EXPECT_EQ(2_s + 3_s, 5_s);
  EXPECT_EQ(2_s - 3_s, Seconds{-1.0});
  EXPECT_EQ(-(2_s), Seconds{-2.0});
  Seconds t = 1_s;
  t += 0.5_s;
  EXPECT_EQ(t, 1.5_s);
  t -= 2_s;
  EXPECT_EQ(t, Seconds{-0.5});
}

TEST(Quantity, ScalesByAPlainNumberFromEitherSide) {
  EXPECT_EQ(2.0 * 3_s, 6_s);
  EXPECT_EQ(3_s * 2.0, 6_s);
  EXPECT_EQ(3_s / 2.0, 1.5_s);
}

TEST(Quantity, RatioOfTwoOfAKindIsAPlainNumber) {
  static_assert(std::is_same_v<decltype(1_s / 2_s), double>);
  EXPECT_EQ(1_s / 4_s, 0.25);
}

TEST(Quantity, OrdersByValue) {
  EXPECT_LT(59_bpm, 60_bpm);
  EXPECT_GT(1_s, 999_ms);
  EXPECT_NE(1_hz, 2_hz);
}

TEST(Quantity, NothingButTheSameUnitOrAnExplicitNumberMakesOne) {
  static_assert(!std::is_convertible_v<double, Seconds>);
  static_assert(!std::is_convertible_v<Seconds, double>);
  static_assert(!std::is_constructible_v<Seconds, Hertz>);
  static_assert(!std::is_constructible_v<BeatsPerMinute, Hertz>);
  static_assert(!std::is_constructible_v<SampleIndex, Seconds>);
  static_assert(!std::is_convertible_v<long, SampleIndex>);
  static_assert(std::is_constructible_v<Seconds, double>);
}

TEST(SampleIndex, DistancesArePlainCountsAndShiftsGiveAPosition) {
  static_assert(std::is_same_v<decltype(SampleIndex{5} - SampleIndex{2}), std::int64_t>);
  EXPECT_EQ(SampleIndex{5} - SampleIndex{2}, 3);
  EXPECT_EQ(SampleIndex{5} - SampleIndex{7}, -2);
  EXPECT_EQ(SampleIndex{5} + 2, SampleIndex{7});
  EXPECT_LT(SampleIndex{1}, SampleIndex{2});
}

TEST(Crossing, FirstSampleIsAtTimeZero) {
  EXPECT_EQ(time_of(SampleIndex{0}, 360_hz), 0_s);
  EXPECT_EQ(time_of(SampleIndex{90}, 360_hz), 0.25_s);
  EXPECT_EQ(time_of(SampleIndex{-360}, 360_hz), Seconds{-1.0});
}

TEST(Crossing, NearestSampleRoundsToTheCloserOne) {
  EXPECT_EQ(nearest_sample(0.124_s, 4_hz), SampleIndex{0});  // 0.496 samples
  EXPECT_EQ(nearest_sample(0.126_s, 4_hz), SampleIndex{1});  // 0.504 samples
  EXPECT_EQ(nearest_sample(1_s, 4_hz), SampleIndex{4});
}

TEST(Crossing, ATieGoesToTheLaterSample) {
  EXPECT_EQ(nearest_sample(0.125_s, 4_hz), SampleIndex{1});           // 0.5 samples
  EXPECT_EQ(nearest_sample(0.375_s, 4_hz), SampleIndex{2});           // 1.5 samples
  EXPECT_EQ(nearest_sample(Seconds{-0.125}, 4_hz), SampleIndex{0});   // -0.5 samples
  EXPECT_EQ(nearest_sample(Seconds{-0.375}, 4_hz), SampleIndex{-1});  // -1.5 samples
}

TEST(Crossing, ATimeBeforeTheStartHasANegativeSample) {
  EXPECT_EQ(nearest_sample(Seconds{-1.0}, 4_hz), SampleIndex{-4});
}

TEST(Crossing, SampleToTimeAndBackIsTheSameSample) {
  for (const Hertz rate : {64_hz, 125_hz, 128_hz, 250_hz, 256_hz, 300_hz, 360_hz, 1000_hz, 257.25_hz}) {
    for (std::int64_t i = 0; i < 700'000; i += 997) {
      ASSERT_EQ(nearest_sample(time_of(SampleIndex{i}, rate), rate), SampleIndex{i}) << rate.value() << " Hz";
    }
  }
}

TEST(Crossing, LengthsInSamplesKeepTheirFractions) {
  EXPECT_EQ(samples_in(0.5_s, 125_hz), 62.5);
  EXPECT_EQ(samples_in(0_s, 125_hz), 0.0);
}

TEST(Crossing, HeartRateAndIntervalAreReciprocal) {
  EXPECT_EQ(rate_of(1_s), 60_bpm);
  EXPECT_EQ(rate_of(750_ms), 80_bpm);
  EXPECT_EQ(interval_of(120_bpm), 0.5_s);
  EXPECT_DOUBLE_EQ(rate_of(interval_of(73_bpm)).value(), 73.0);
}

TEST(Span, HasItsStartButNotItsEnd) {
  constexpr Span span{1_s, 3_s};
  EXPECT_EQ(span.length(), 2_s);
  EXPECT_TRUE(span.contains(1_s));
  EXPECT_TRUE(span.contains(2.999_s));
  EXPECT_FALSE(span.contains(3_s));
  EXPECT_FALSE(span.contains(0.999_s));
}

TEST(Span, AnEmptyOneContainsNothing) {
  constexpr Span empty{2_s, 2_s};
  EXPECT_EQ(empty.length(), 0_s);
  EXPECT_FALSE(empty.contains(2_s));
}

}  // namespace
}  // namespace pulsewright
