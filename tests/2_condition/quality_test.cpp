#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "2_condition/waves.hpp"
#include "pulsewright/condition.hpp"

namespace pulsewright {
namespace {

using test::channel_of;
const float nan = std::numeric_limits<float>::quiet_NaN();

TEST(Quality, CleanWavesAreTrustedAtEveryRate) {
  for (const double rate : {100.0, 128.0, 250.0, 360.0, 1000.0}) {
    const Signal s = condition(channel_of(test::ecg(rate, 30), rate));
    ASSERT_EQ(s.quality.size(), 30U);
    for (const SecondQuality& q : s.quality) {
      EXPECT_GT(q.index, 0.9F) << rate;
      EXPECT_EQ(q.fault, QualityFault::none) << rate;
    }
  }
  for (const double rate : {25.0, 64.0, 125.0, 300.0, 1000.0}) {
    const Signal s = condition(channel_of(test::pulse(rate, 30), rate, ChannelKind::pulse));
    for (const SecondQuality& q : s.quality) {
      EXPECT_GT(q.index, 0.9F) << rate;
      EXPECT_EQ(q.fault, QualityFault::none) << rate;
    }
  }
}

TEST(Quality, NoiseIsNamedWhereItIs) {
  for (const ChannelKind kind : {ChannelKind::ecg, ChannelKind::pulse}) {
    std::vector<float> x = kind == ChannelKind::ecg ? test::ecg(250, 40) : test::pulse(250, 40);
    const std::vector<float> noise = test::noise(250 * 10, kind == ChannelKind::ecg ? 1.0 : 20.0, 3);
    for (std::size_t i = 0; i < noise.size(); ++i) x[5000 + i] += noise[i];  // 20 to 30 s
    const Signal s = condition(channel_of(x, 250, kind));
    for (std::size_t k = 0; k < 40; ++k) {
      if (k >= 21 && k < 29) {
        EXPECT_EQ(s.quality[k].fault, QualityFault::noise) << k;
        EXPECT_LT(s.quality[k].index, 0.5F) << k;
      }
      if (k < 17 || k > 32) {
        EXPECT_EQ(s.quality[k].fault, QualityFault::none) << k;
      }
    }
  }
}

TEST(Quality, FlatLineIsNamedAndWorthNothing) {
  std::vector<float> x = test::ecg(250, 20);
  std::fill_n(x.begin() + 1250, 1000, 0.1F);  // 5 to 9 s
  const Signal s = condition(channel_of(x, 250));
  for (std::size_t k = 0; k < 20; ++k) {
    EXPECT_EQ(s.quality[k].fault == QualityFault::flat, k >= 5 && k < 9) << k;
    if (k >= 5 && k < 9) {
      EXPECT_EQ(s.quality[k].index, 0.0F);
    }
  }
}

TEST(Quality, ConstantChannelAndSingleSampleAreFlat) {
  for (const ChannelKind kind : {ChannelKind::ecg, ChannelKind::pulse}) {
    for (const std::size_t n : {1U, 2500U, 2501U}) {
      const Signal s = condition(channel_of(std::vector<float>(n, 512.0F), 250, kind));
      ASSERT_EQ(s.quality.size(), (n + 249) / 250);
      for (const SecondQuality& q : s.quality) {
        EXPECT_EQ(q.fault, QualityFault::flat);
        EXPECT_EQ(q.index, 0.0F);
      }
      for (const float v : s.values) EXPECT_NEAR(v, 0.0F, 1e-3F);
    }
  }
}

TEST(Quality, ClippingIsNamedWhereTheRailHoldsAndNotWhereAWaveTurns) {
  std::vector<float> x = test::pulse(100, 40);
  for (std::size_t i = 0; i < x.size(); ++i) x[i] *= i >= 2000 && i < 3000 ? 2.0F : 0.8F;
  for (float& v : x) v = std::min(v, 1.0F);  // the taller beats from 20 to 30 s run into a rail
  const Signal s = condition(channel_of(x, 100, ChannelKind::pulse));
  for (std::size_t k = 0; k < 40; ++k) {
    EXPECT_EQ(s.quality[k].fault == QualityFault::clipped, k >= 20 && k < 30) << k;
    EXPECT_GT(s.quality[k].index, 0.2F) << k;
  }
  // The same wave without a rail, in steps as coarse as those of an 8-bit converter.
  std::vector<float> coarse = test::pulse(100, 40);
  for (float& v : coarse) v = std::round(v * 200.0F);
  for (const SecondQuality& q : condition(channel_of(coarse, 100, ChannelKind::pulse)).quality) {
    EXPECT_EQ(q.fault, QualityFault::none);
  }
}

TEST(Quality, MissingSecondsAreGaps) {
  std::vector<float> x = test::ecg(250, 10);
  std::fill_n(x.begin() + 1000, 300, nan);  // 4.0 to 5.2 s
  const Signal s = condition(channel_of(x, 250));
  EXPECT_EQ(s.quality[4].fault, QualityFault::gap);
  EXPECT_EQ(s.quality[4].index, 0.0F);
  EXPECT_EQ(s.quality[5].fault, QualityFault::gap);
  EXPECT_NEAR(s.quality[5].index, 0.8F, 0.05F);
  EXPECT_EQ(s.quality[6].fault, QualityFault::none);
  for (const SecondQuality& q : condition(channel_of(std::vector<float>(750, nan), 250)).quality) {
    EXPECT_EQ(q.fault, QualityFault::gap);
    EXPECT_EQ(q.index, 0.0F);
  }
}

TEST(Quality, LastSecondThatIsNotFullIsJudgedWithTheOneBefore) {
  const Signal s = condition(channel_of(test::ecg(250, 10.004), 250));
  ASSERT_EQ(s.values.size(), 2501U);
  ASSERT_EQ(s.quality.size(), 11U);
  EXPECT_EQ(s.quality[10].fault, QualityFault::none);
}

}  // namespace
}  // namespace pulsewright
