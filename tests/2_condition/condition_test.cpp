#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "2_condition/sine.hpp"
#include "pulsewright/condition.hpp"

namespace pulsewright {
namespace {

const float nan = std::numeric_limits<float>::quiet_NaN();

Channel channel_of(std::vector<float> samples, double rate, ChannelKind kind = ChannelKind::ecg) {
  Channel c;
  c.name = "Wren";
  c.kind = kind;
  c.rate = Hertz{rate};
  c.samples = std::move(samples);
  return c;
}

TEST(Condition, EmptyChannelGivesAnEmptySignal) {
  const Signal s = condition(channel_of({}, 250));
  EXPECT_TRUE(s.values.empty());
  EXPECT_TRUE(s.gaps.empty());
  EXPECT_TRUE(s.quality.empty());
}

TEST(Condition, AllMissingIsOneGapOfNoQuality) {
  const Signal s = condition(channel_of(std::vector<float>(750, nan), 250));
  ASSERT_EQ(s.gaps.size(), 1U);
  EXPECT_EQ(s.gaps[0], (Span{Seconds{0}, Seconds{3}}));
  ASSERT_EQ(s.quality.size(), 3U);
  for (const SecondQuality& q : s.quality) {
    EXPECT_EQ(q.index, 0.0F);
    EXPECT_EQ(q.fault, QualityFault::gap);
  }
  for (const float v : s.values) EXPECT_TRUE(std::isnan(v));
}

TEST(Condition, SingleSampleIsFlat) {
  for (const ChannelKind kind : {ChannelKind::ecg, ChannelKind::pulse}) {
    const Signal s = condition(channel_of({3.5F}, 100, kind));
    ASSERT_EQ(s.values.size(), 1U);
    EXPECT_NEAR(s.values[0], 0.0F, 1e-6F);
    ASSERT_EQ(s.quality.size(), 1U);
    EXPECT_EQ(s.quality[0].fault, QualityFault::flat);
  }
}

TEST(Condition, ConstantChannelIsFlatEverySecond) {
  const Signal s = condition(channel_of(std::vector<float>(2500, 512.0F), 250));
  ASSERT_EQ(s.quality.size(), 10U);
  for (const SecondQuality& q : s.quality) {
    EXPECT_EQ(q.fault, QualityFault::flat);
    EXPECT_EQ(q.index, 0.0F);
  }
  for (const float v : s.values) EXPECT_NEAR(v, 0.0F, 1e-3F);
}

TEST(Condition, RateMustBePositive) {
  for (const double rate : {0.0, -250.0, std::nan("")}) {
    try {
      (void)condition(channel_of({1.0F, 2.0F}, rate));
      ADD_FAILURE() << rate;
    } catch (const Error& e) {
      EXPECT_EQ(e.code(), ErrorCode::contract);
    }
  }
}

}  // namespace
}  // namespace pulsewright
