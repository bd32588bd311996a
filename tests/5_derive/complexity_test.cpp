#include "pulsewright/complexity.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "made_series.hpp"
#include "pulsewright/error.hpp"

namespace pulsewright {
namespace {

std::vector<std::uint32_t> counts_by_every_pair(const std::vector<double>& x, std::size_t m, double r) {
  const std::size_t n = x.size() - m + 1;
  std::vector<std::uint32_t> counts(n, 0);
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = 0; j < n; ++j) {
      bool close = true;
      for (std::size_t k = 0; k < m; ++k) close = close && std::abs(x[i + k] - x[j + k]) <= r;
      counts[i] += close;
    }
  return counts;
}

TEST(Complexity, NeighboursAreCountedAsByEveryPairWithAndWithoutTies) {
  for (const std::size_t n : {4u, 60u, 65u, 131u, 700u}) {
    std::vector<double> smooth = white_noise(n, 11), ticks;
    for (const double v : smooth) ticks.push_back(std::round(3.0 * v));  // many equal values
    for (const std::size_t m : {1u, 2u, 3u, 4u})
      for (const double r : {0.0, 0.3, 1.0}) {
        EXPECT_EQ(neighbour_counts(smooth, m, r), counts_by_every_pair(smooth, m, r)) << n << ' ' << m << ' ' << r;
        EXPECT_EQ(neighbour_counts(ticks, m, r), counts_by_every_pair(ticks, m, r)) << n << ' ' << m << ' ' << r;
      }
  }
  EXPECT_TRUE(neighbour_counts(std::vector<double>{1.0}, 2, 0.1).empty());
  EXPECT_THROW((void)neighbour_counts(std::vector<double>{1.0}, 0, 0.1), Error);
}

TEST(Complexity, SampleEntropyOfIndependentDataIsThatOfItsDefinition) {
  // -ln of the chance that two values lie within r, for any m (from the definition of Richman & Moorman 2000, AJP Heart 278:H2039): Gaussian
  // -ln erf(r / 2), uniform with r in its SD of 1 / sqrt 12.
  const struct { double r, expected; } gaussian[] = {{0.1, 2.875783}, {0.15, 2.471359}, {0.2, 2.185132}};
  for (const auto& c : gaussian) {
    EXPECT_NEAR(-std::log(std::erf(c.r / 2.0)), c.expected, 5e-7);
    for (const std::size_t m : {1u, 2u})
      EXPECT_NEAR(sample_entropy(white_noise(30000, 4), {m, c.r}).value(), c.expected, 0.02) << m << ' ' << c.r;
  }
  std::mt19937 random(8);
  std::vector<double> uniform;
  for (int i = 0; i < 30000; ++i) uniform.push_back(static_cast<double>(random()));
  EXPECT_NEAR(sample_entropy(uniform).value(), 2.188036, 0.02);
}

TEST(Complexity, AConstantOrShortSeriesHasNoEntropy) {
  EXPECT_FALSE(sample_entropy(std::vector<double>(50, 800.0)));
  EXPECT_FALSE(approximate_entropy(std::vector<double>(50, 800.0)));
  EXPECT_FALSE(sample_entropy(std::vector<double>{1, 2, 3}));
  EXPECT_FALSE(sample_entropy(std::vector<double>{}));
  EXPECT_FALSE(sample_entropy(std::vector<double>{10, 20, 30, 40, 50, 60}));  // nothing is close to anything
}

TEST(Complexity, APeriodicSeriesIsRegular) {
  std::vector<double> series;
  for (int i = 0; i < 900; ++i) series.push_back(i % 3);
  EXPECT_NEAR(sample_entropy(series).value(), 0.0, 0.01);
}

TEST(Complexity, CoarseMeansOfWhiteNoiseLoseEntropy) {
  // Costa et al. 2002, PRL 89:068102: r stays, the spread of means falls with the root of the scale; -ln erf(r sqrt(scale) / 2).
  const auto scales = multiscale_entropy(white_noise(60000, 12), 5);
  for (std::size_t s = 1; s <= 5; ++s)
    EXPECT_NEAR(scales[s - 1].value(), -std::log(std::erf(0.1 * std::sqrt(static_cast<double>(s)))), 0.03) << s;
}

double mean_exponent(double (*next)(double last, double drawn, std::vector<double>& state), std::size_t low,
                     std::size_t high, double& spread) {
  std::vector<double> found;
  for (std::uint32_t seed = 1; seed <= 20; ++seed) {
    std::vector<double> series, state(20, 0.0);
    double last = 0.0;
    for (const double drawn : white_noise(8192, seed)) series.push_back(last = next(last, drawn, state));
    found.push_back(fluctuation_exponent(series, low, high).value());
  }
  double mean = 0.0, squares = 0.0;
  for (const double v : found) mean += v / static_cast<double>(found.size());
  for (const double v : found) squares += (v - mean) * (v - mean);
  spread = std::sqrt(squares / static_cast<double>(found.size() - 1));
  return mean;
}

TEST(Complexity, ScalingExponentsOfKnownNoisesAreFoundOverTwentySeeds) {
  // Peng et al. 1995, Chaos 5:82: white 0.5, 1/f 1.0, Brownian 1.5. Stated tolerance 0.05 over boxes of 16 to 256 values.
  const auto white = [](double, double drawn, std::vector<double>&) { return drawn; };
  const auto brown = [](double last, double drawn, std::vector<double>&) { return last + drawn; };
  // 1/f: relaxing processes whose times are spaced by powers of two, each with the same power (a sum of Lorentzians).
  const auto pink = [](double, double drawn, std::vector<double>& state) {
    double sum = 0.0, shuffled = drawn;
    for (std::size_t k = 0; k < 14; ++k) {
      const double keep = std::exp(-std::pow(2.0, -static_cast<double>(k) + 0.5));
      // One drawn value serves all of them: scrambled by its own digits, so that they are independent.
      shuffled = std::fmod(std::abs(shuffled) * 9973.0 + static_cast<double>(k), 1.0) - 0.5;
      state[k] = keep * state[k] + std::sqrt(12.0 * (1.0 - keep * keep)) * shuffled;
      sum += state[k];
    }
    return sum;
  };
  double spread = 0.0;
  EXPECT_NEAR(mean_exponent(white, 16, 256, spread), 0.5, 0.05);
  EXPECT_LT(spread, 0.06);
  EXPECT_NEAR(mean_exponent(pink, 16, 256, spread), 1.0, 0.05);
  EXPECT_LT(spread, 0.08);
  EXPECT_NEAR(mean_exponent(brown, 16, 256, spread), 1.5, 0.05);
  EXPECT_LT(spread, 0.10);
}

TEST(Complexity, ShortBoxesBendTheExponentByAsMuchAsIsStated) {
  // Boxes below ten values: white noise reads a little above 0.5 (the correction of Kantelhardt et al. 2001, Physica A 295:441, is not applied).
  double spread = 0.0;
  const auto white = [](double, double drawn, std::vector<double>&) { return drawn; };
  EXPECT_NEAR(mean_exponent(white, 4, 16, spread), 0.56, 0.04);
}

TEST(Complexity, OneWindowOfTwoMinutesHasTheErrorThatTheHeaderStates) {
  std::vector<double> found;
  for (std::uint32_t seed = 1; seed <= 400; ++seed)
    found.push_back(fluctuation_exponent(white_noise(250, seed), 4, 16).value());
  double mean = 0.0, squares = 0.0;
  for (const double v : found) mean += v / static_cast<double>(found.size());
  for (const double v : found) squares += (v - mean) * (v - mean);
  EXPECT_NEAR(std::sqrt(squares / static_cast<double>(found.size() - 1)), 0.07, 0.015);
}

TEST(Complexity, ASeriesWithoutFluctuationHasNoExponent) {
  EXPECT_FALSE(fluctuation_exponent(std::vector<double>(100, 800.0), 4, 16));
  EXPECT_FALSE(fluctuation_exponent(std::vector<double>(10, 800.0), 4, 16));
  EXPECT_THROW((void)fluctuation_exponent(std::vector<double>(100, 800.0), 2, 16), Error);
  EXPECT_EQ(fluctuation(std::vector<double>{1, 2}, 4), 0.0);
}

TEST(Complexity, PoincareSpreadsObeyTheIdentityOfBrennan) {
  // Brennan et al. 2001, IEEE TBME 48:1342: SD1^2 = SDSD^2 / 2 exactly. RR 800 810 790 860 800 900 780 820 815 805 ms, SDSD 66.259171.
  const std::vector<double> rr{800, 810, 790, 860, 800, 900, 780, 820, 815, 805};
  const std::vector<double> first(rr.begin(), rr.end() - 1), second(rr.begin() + 1, rr.end());
  const Poincare cloud = poincare(first, second).value();
  EXPECT_NEAR(cloud.sd1_ms * cloud.sd1_ms, 66.259171 * 66.259171 / 2.0, 1e-4);
  EXPECT_NEAR(cloud.area_ms2, std::numbers::pi * cloud.sd1_ms * cloud.sd2_ms, 1e-9);
  // Lengthening: 10^2 + 70^2 + 100^2 + 40^2 = 16600 of 35125.
  EXPECT_NEAR(cloud.lengthening_percent.value(), 100.0 * 16600.0 / 35125.0, 1e-9);
  // Sums of neighbours 1610 1600 1650 1660 1700 1680 1600 1635 1620: mean 1639.4444, squares 10222.2222.
  EXPECT_NEAR(cloud.sd2_ms, std::sqrt(10222.2222 / 8.0 / 2.0), 1e-4);
}

TEST(Complexity, ACloudNeedsTwoPoints) {
  EXPECT_FALSE(poincare(std::vector<double>{800.0}, std::vector<double>{810.0}));
  EXPECT_FALSE(poincare({}, {}));
  EXPECT_THROW((void)poincare(std::vector<double>{1, 2}, std::vector<double>{1}), Error);
  const std::vector<double> still{800, 800, 800};
  EXPECT_FALSE(poincare(still, still)->lengthening_percent);
}

}  // namespace
}  // namespace pulsewright
