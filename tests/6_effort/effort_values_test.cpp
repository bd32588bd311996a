/// Maximum, target and categories against published and hand-computed values.
#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "pulsewright/effort.hpp"

namespace pulsewright {
namespace {

Person aged(double years) {
  Person person;
  person.code = "wren";
  person.age_years = years;
  return person;
}

double maximum_at(double years, MaximumSource equation) {
  return maximum_rate(aged(years), equation).value().rate.value();
}

RestingRate resting(double bpm) { return {BeatsPerMinute{bpm}, RestingSource::given, std::nullopt}; }
MaximumRate measured(double bpm) { return {BeatsPerMinute{bpm}, std::nullopt, MaximumSource::measured}; }

TEST(MaximumRate, FollowsEachPublishedEquationAtFourteenAndForty) {
  using enum MaximumSource;
  // Common practice (Fox 1971).
  EXPECT_DOUBLE_EQ(maximum_at(14, fox_1971), 206.0);
  EXPECT_DOUBLE_EQ(maximum_at(40, fox_1971), 180.0);
  // Tanaka et al. 2001, JACC 37:153.
  EXPECT_DOUBLE_EQ(maximum_at(14, tanaka_2001), 198.2);
  EXPECT_DOUBLE_EQ(maximum_at(40, tanaka_2001), 180.0);
  // Gellish et al. 2007, MSSE 39:822.
  EXPECT_DOUBLE_EQ(maximum_at(14, gellish_2007), 197.2);
  EXPECT_DOUBLE_EQ(maximum_at(40, gellish_2007), 179.0);
  // Nes et al. 2013, Scand J Med Sci Sports 23:697.
  EXPECT_DOUBLE_EQ(maximum_at(14, nes_2013), 202.04);
  EXPECT_DOUBLE_EQ(maximum_at(40, nes_2013), 185.4);
  // Gulati et al. 2010, Circulation 122:130, adult women.
  EXPECT_DOUBLE_EQ(maximum_at(40, gulati_2010), 170.8);
}

TEST(MaximumRate, StatesHowFarPeopleLieFromTheEquation) {
  using enum MaximumSource;
  EXPECT_EQ(maximum_rate(aged(40), fox_1971)->sd_bpm, 11.0);     // common practice: 10 to 12
  EXPECT_EQ(maximum_rate(aged(40), tanaka_2001)->sd_bpm, 11.0);  // the same, of any age formula
  EXPECT_EQ(maximum_rate(aged(15), nes_2013)->sd_bpm, 10.8);     // Nes et al. 2013, SEE
  // Mahon et al. 2010, RQES 81:466, 7 to 17 years: 220 - age missed by 10 +- 8, 208 - 0.7 age by 8 +- 5; measured maxima 201 +- 10.
  EXPECT_NEAR(maximum_rate(aged(15), fox_1971)->sd_bpm.value(), 12.806, 1e-3);
  EXPECT_NEAR(maximum_rate(aged(15), tanaka_2001)->sd_bpm.value(), 9.434, 1e-3);
  EXPECT_EQ(maximum_rate(aged(15), mahon_2010)->rate, 201_bpm);
  EXPECT_EQ(maximum_rate(aged(15), mahon_2010)->sd_bpm, 10.0);
  EXPECT_THROW((void)maximum_rate(aged(18), mahon_2010), Error);
  EXPECT_THROW((void)maximum_rate(aged(6), mahon_2010), Error);
}

TEST(MaximumRate, AMeasuredMaximumGoesBeforeAnyEquation) {
  Person person = aged(15);
  person.measured_maximum = 197_bpm;
  const MaximumRate maximum = maximum_rate(person, MaximumSource::nes_2013).value();
  EXPECT_EQ(maximum.rate, 197_bpm);
  EXPECT_EQ(maximum.source, MaximumSource::measured);
  EXPECT_FALSE(maximum.sd_bpm);
}

TEST(MaximumRate, IsUnknownWithoutAgeOrMeasurement) {
  EXPECT_FALSE(maximum_rate(Person{}));
  EXPECT_FALSE(maximum_rate(aged(15), MaximumSource::measured));
}

TEST(MaximumRate, TakesAgesFourAndNinety) {
  EXPECT_DOUBLE_EQ(maximum_at(4, MaximumSource::fox_1971), 216.0);
  EXPECT_DOUBLE_EQ(maximum_at(90, MaximumSource::fox_1971), 130.0);
}

TEST(MaximumRate, RefusesImpossibleAgesAndMaximaAndNamesThem) {
  for (const double age : {0.0, -3.0, 121.0, std::nan("")}) EXPECT_THROW((void)maximum_rate(aged(age)), Error) << age;
  try {
    (void)maximum_rate(aged(150));
    FAIL();
  } catch (const Error& error) {
    EXPECT_EQ(error.code(), ErrorCode::usage);
    EXPECT_NE(std::string{error.what()}.find("150"), std::string::npos);
    EXPECT_NE(std::string{error.what()}.find("wren"), std::string::npos);
  }
  Person person = aged(15);
  person.measured_maximum = 20_bpm;
  EXPECT_THROW((void)maximum_rate(person), Error);
}

TEST(MaximumRate, RefusesTheEquationForWomenWhereItWasNotFound) {
  Person man = aged(40);
  man.sex = Sex::male;
  EXPECT_THROW((void)maximum_rate(man, MaximumSource::gulati_2010), Error);
  EXPECT_THROW((void)maximum_rate(aged(14), MaximumSource::gulati_2010), Error);
}

TEST(TargetZone, ByReserveAgreesWithTheWorkedValues) {
  // Karvonen et al. 1957; common practice, worked: age 15, rest 66, reserve 139: 149 to 184.
  const TargetZone target = target_zone(maximum_rate(aged(15)).value(), resting(66));
  EXPECT_DOUBLE_EQ((target.maximum.rate - target.resting->rate).value(), 139.0);
  EXPECT_NEAR(target.low.value(), 149.4, 1e-12);
  EXPECT_NEAR(target.high.value(), 184.15, 1e-12);
  EXPECT_EQ(std::floor(target.low.value() + 0.5), 149.0);
  EXPECT_EQ(std::floor(target.high.value() + 0.5), 184.0);
  EXPECT_TRUE(target.from_reserve);
  // Common practice: at rest 75 and age 15 the band ends at 185.5.
  EXPECT_NEAR(target_zone(maximum_rate(aged(15)).value(), resting(75)).high.value(), 185.5, 1e-12);
}

TEST(TargetZone, WithoutARestingRateGoesByShareOfTheMaximumAndSaysSo) {
  const TargetZone target = target_zone(measured(200), std::nullopt);
  EXPECT_DOUBLE_EQ(target.low.value(), 120.0);
  EXPECT_DOUBLE_EQ(target.high.value(), 170.0);
  EXPECT_FALSE(target.from_reserve);
}

TEST(TargetZone, MovesWithAConstantAddedToRestAndMaximum) {
  const TargetZone a = target_zone(measured(190), resting(60));
  const TargetZone b = target_zone(measured(197), resting(67));
  EXPECT_NEAR((b.low - a.low).value(), 7.0, 1e-12);
  EXPECT_NEAR((b.high - a.high).value(), 7.0, 1e-12);
}

TEST(TargetZone, RefusesARestingRateNotBelowTheMaximumAndNamesBoth) {
  for (const double rest : {205.0, 230.0}) {
    try {
      (void)target_zone(maximum_rate(aged(15)).value(), resting(rest));
      FAIL() << rest;
    } catch (const Error& error) {
      EXPECT_EQ(error.code(), ErrorCode::usage);
      EXPECT_NE(std::string{error.what()}.find("205"), std::string::npos) << error.what();
    }
  }
}

TEST(TargetZone, RefusesFractionsOutOfOrder) {
  for (const auto& [low, high] : {std::pair{0.8, 0.6}, {0.6, 0.6}, {-0.1, 0.5}, {0.5, 1.1}, {std::nan(""), 0.5}})
    EXPECT_THROW((void)target_zone(measured(200), resting(60), low, high), Error) << low << " " << high;
  EXPECT_NO_THROW((void)target_zone(measured(200), resting(60), 0.0, 1.0));
}

TEST(TargetZone, AProfessionalsCeilingLowersTheUpperEndOrRemovesTheTarget) {
  const TargetZone target = target_zone(measured(200), resting(60));  // 144 to 179
  EXPECT_EQ(with_ceiling(target, 160_bpm)->high, 160_bpm);
  EXPECT_EQ(with_ceiling(target, 160_bpm)->own_ceiling, 160_bpm);
  EXPECT_EQ(with_ceiling(target, 190_bpm)->high, target.high);
  EXPECT_FALSE(with_ceiling(target, 190_bpm)->own_ceiling);
  EXPECT_FALSE(with_ceiling(target, 140_bpm));
}

TEST(Intensity, CategoriesOfReserveAreHalfOpenExactlyAtTheirEdges) {
  // ACSM 10th edition; Garber et al. 2011, MSSE 43:1334. 0.3 and 0.6 are not exact in binary.
  using enum Intensity;
  const std::pair<double, Intensity> edges[] = {
      {0.30, light}, {0.40, moderate}, {0.60, vigorous}, {0.90, near_maximal}};
  Intensity below = very_light;
  for (const auto& [edge, category] : edges) {
    EXPECT_EQ(intensity_of_reserve(edge), category) << edge;
    EXPECT_EQ(intensity_of_reserve(std::nextafter(edge, 0.0)), below) << edge;
    below = category;
  }
  EXPECT_EQ(intensity_of_reserve(-0.2), very_light);
  EXPECT_EQ(intensity_of_reserve(0.0), very_light);
  EXPECT_EQ(intensity_of_reserve(0.395), light);
  EXPECT_EQ(intensity_of_reserve(0.599), moderate);
  EXPECT_EQ(intensity_of_reserve(1.2), near_maximal);
}

TEST(Intensity, CategoriesOfMaximumAreHalfOpenExactlyAtTheirEdges) {
  // The same source: < 57, 57-63, 64-76, 77-95, >= 96 % of maximum.
  using enum Intensity;
  const std::pair<double, Intensity> edges[] = {
      {0.57, light}, {0.64, moderate}, {0.77, vigorous}, {0.96, near_maximal}};
  Intensity below = very_light;
  for (const auto& [edge, category] : edges) {
    EXPECT_EQ(intensity_of_maximum(edge), category) << edge;
    EXPECT_EQ(intensity_of_maximum(std::nextafter(edge, 0.0)), below) << edge;
    below = category;
  }
}

TEST(Words, EveryValueHasItsOwnWord) {
  EXPECT_STREQ(to_string(Intensity::very_light), "very_light");
  EXPECT_STREQ(to_string(Intensity::near_maximal), "near_maximal");
  EXPECT_STREQ(to_string(MaximumSource::fox_1971), "fox");
  EXPECT_STREQ(to_string(MaximumSource::gulati_2010), "gulati");
  EXPECT_STREQ(to_string(RestingSource::lowest_minute), "lowest_minute");
  EXPECT_NE(std::string{describe(MaximumSource::tanaka_2001)}.find("JACC 37:153"), std::string::npos);
}

}  // namespace
}  // namespace pulsewright
