#include "../../dsp/simulate/elementary.hpp"

#include <gtest/gtest.h>

#include <cmath>

// The C library is the yardstick: it is correct to within an ulp, and these need only be close and the same everywhere.
namespace pulsewright::simulation {
namespace {

TEST(ElementaryFunctions, ExponentialAgreesWithTheCLibraryToAFewUnitsInTheLastPlace) {
  for (double x = -690.0; x < 690.0; x += 0.377) EXPECT_NEAR(exponential(x) / std::exp(x), 1.0, 1e-15) << x;
  EXPECT_EQ(exponential(0.0), 1.0);
  EXPECT_EQ(exponential(-1000.0), 0.0);
  EXPECT_TRUE(std::isfinite(exponential(1e9)));
}

TEST(ElementaryFunctions, LogarithmAgreesWithTheCLibrary) {
  for (double x = 1e-12; x < 1e12; x *= 1.37) {
    EXPECT_NEAR(logarithm(x), std::log(x), 1e-15 * std::max(1.0, std::abs(std::log(x)))) << x;
  }
  EXPECT_EQ(logarithm(1.0), 0.0);
}

TEST(ElementaryFunctions, SineOfTurnsAgreesWithTheCLibrary) {
  for (double turns = -3.0; turns < 3.0; turns += 0.0137) {
    EXPECT_NEAR(sine_of_turns(turns), std::sin(2.0 * pi * turns), 5e-15) << turns;
  }
  EXPECT_EQ(sine_of_turns(0.0), 0.0);
  EXPECT_EQ(sine_of_turns(0.25), 1.0);
  EXPECT_EQ(sine_of_turns(0.75), -1.0);
}

TEST(ElementaryFunctions, WholeTurnsDoNotBlurTheSine) {
  EXPECT_EQ(sine_of_turns(4320000.125), sine_of_turns(0.125));  // a day of 50 Hz
}

TEST(ElementaryFunctions, PowerAndBellFollowTheirDefinitions) {
  EXPECT_NEAR(power(10.0, 0.3), std::pow(10.0, 0.3), 1e-14);
  EXPECT_NEAR(bell(1.5), std::exp(-1.125), 1e-15);
}

}  // namespace
}  // namespace pulsewright::simulation
