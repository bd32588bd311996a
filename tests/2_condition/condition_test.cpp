#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "2_condition/sine.hpp"
#include "2_condition/waves.hpp"
#include "pulsewright/condition.hpp"

namespace pulsewright {
namespace {

using test::channel_of;
const float nan = std::numeric_limits<float>::quiet_NaN();

TEST(Condition, EmptyChannelGivesAnEmptySignal) {
  const Signal s = condition(channel_of({}, 250));
  EXPECT_TRUE(s.values.empty());
  EXPECT_TRUE(s.gaps.empty());
  EXPECT_TRUE(s.quality.empty());
}

TEST(Condition, AllMissingIsOneGap) {
  const Signal s = condition(channel_of(std::vector<float>(750, nan), 250));
  ASSERT_EQ(s.gaps.size(), 1U);
  EXPECT_EQ(s.gaps[0], (Span{Seconds{0}, Seconds{3}}));
  ASSERT_EQ(s.values.size(), 750U);
  for (const float v : s.values) EXPECT_TRUE(std::isnan(v));
}

TEST(Condition, RateMustBePositive) {
  for (const double rate : {0.0, -250.0, std::nan("")}) {
    try {
      (void)condition(channel_of({1.0F, 2.0F}, rate));
      ADD_FAILURE() << rate;
    } catch (const Error& e) {
      EXPECT_EQ(e.code(), ErrorCode::contract);
      EXPECT_NE(std::string{e.what()}.find("Wren"), std::string::npos);
    }
  }
}

TEST(Condition, KeepsNameKindRateStartAndLength) {
  Channel c = channel_of(test::ecg(250, 10), 250);
  c.start = Seconds{4.5};
  const Signal s = condition(c);
  EXPECT_EQ(s.channel, "Wren");
  EXPECT_EQ(s.kind, ChannelKind::ecg);
  EXPECT_EQ(s.rate, Hertz{250});
  EXPECT_EQ(s.start, Seconds{4.5});
  EXPECT_EQ(s.values.size(), 2500U);
}

TEST(Condition, RemovesTheBaselineAndKeepsTheWaveAndItsTime) {
  for (const double rate : {100.0, 250.0, 1000.0}) {
    const std::vector<float> clean = test::ecg(rate, 40);
    std::vector<float> wandering = clean;
    const std::vector<float> wander = test::sine(0.1, rate, clean.size(), 2.0, 50.0);
    for (std::size_t i = 0; i < clean.size(); ++i) wandering[i] += wander[i];
    const Signal a = condition(channel_of(clean, rate));
    const Signal b = condition(channel_of(wandering, rate));
    for (std::size_t i = clean.size() / 4; i < clean.size() * 3 / 4; ++i) {
      // Used twice, the second-order filter holds 0.1 Hz back by (0.1 / 0.67)^4 = 5e-4 of 2 mV.
      ASSERT_NEAR(a.values[i], b.values[i], 1.2e-3F) << rate << " " << i;
    }
    // The R peak stays where it was, and within a tenth of its height.
    const auto first = static_cast<std::size_t>(16.0 * rate), last = static_cast<std::size_t>(16.8 * rate);
    const auto peak = [&](const std::vector<float>& x) {
      return std::max_element(x.begin() + static_cast<std::ptrdiff_t>(first),
                              x.begin() + static_cast<std::ptrdiff_t>(last)) -
             x.begin();
    };
    EXPECT_EQ(peak(clean), peak(b.values)) << rate;
    EXPECT_NEAR(b.values[static_cast<std::size_t>(peak(b.values))], clean[static_cast<std::size_t>(peak(clean))], 0.15)
        << rate;
  }
}

TEST(Condition, PulseLosesWhatIsAbove8HzAndKeepsTheHeart) {
  for (const double rate : {25.0, 64.0, 125.0, 1000.0}) {
    const std::size_t n = static_cast<std::size_t>(rate) * 60;
    const auto gain = [&](double hz) {
      const Signal s = condition(channel_of(test::sine(hz, rate, n), rate, ChannelKind::pulse));
      return test::amplitude(std::span{s.values}.subspan(n / 3, n / 3), hz, rate);
    };
    EXPECT_NEAR(gain(1.5), 1.0, 0.02) << rate;
    EXPECT_NEAR(gain(8.0), 0.5, 0.02) << rate;  // half power, passed twice
    EXPECT_LT(gain(0.05), 0.001) << rate;
    if (rate > 50.0) {
      EXPECT_LT(gain(24.0), 0.02) << rate;
    }
  }
}

TEST(Condition, EcgIsNotLowPassed) {
  const std::size_t n = 500 * 20;
  for (const double hz : {10.0, 40.0, 100.0, 200.0}) {
    const Signal s = condition(channel_of(test::sine(hz, 500, n), 500));
    EXPECT_NEAR(test::amplitude(std::span{s.values}.subspan(n / 4, n / 2), hz, 500), 1.0, 1e-3) << hz;
  }
}

TEST(Condition, ShortGapsAreBridgedLongOnesStayAndDoNotSpread) {
  std::vector<float> x = test::ecg(200, 20);
  const std::vector<float> whole = x;
  std::fill_n(x.begin() + 1000, 10, nan);  // 50 ms: bridged
  std::fill_n(x.begin() + 2000, 11, nan);  // 55 ms: a gap
  std::fill_n(x.begin(), 3, nan);          // at an end there is nothing to bridge to
  const Signal s = condition(channel_of(x, 200));
  ASSERT_EQ(s.gaps.size(), 2U);
  EXPECT_EQ(s.gaps[0], (Span{Seconds{0}, Seconds{0.015}}));
  EXPECT_EQ(s.gaps[1], (Span{Seconds{10}, Seconds{10.055}}));
  for (std::size_t i = 0; i < x.size(); ++i) {
    ASSERT_EQ(std::isnan(s.values[i]), i < 3 || (i >= 2000 && i < 2011)) << i;
  }
  const Signal reference = condition(channel_of(whole, 200));
  for (std::size_t i = 2200; i < 3500; ++i) ASSERT_NEAR(s.values[i], reference.values[i], 0.02F) << i;
}

TEST(Condition, InfinityCountsAsMissing) {
  std::vector<float> x = test::ecg(200, 5);
  std::fill_n(x.begin() + 400, 50, std::numeric_limits<float>::infinity());
  const Signal s = condition(channel_of(x, 200));
  ASSERT_EQ(s.gaps.size(), 1U);
  EXPECT_EQ(s.gaps[0].length(), Seconds{0.25});
}

TEST(Condition, UnevenTimesGoToAUniformGridAndPausesBecomeGaps) {
  // 100 Hz with jitter of 2 ms; nothing between 10 and 11 s, a single sample lost at 5 s.
  Channel c = channel_of({}, 100);
  for (int i = 0; i < 2000; ++i) {
    const double t = 3.0 + 0.01 * i + 0.002 * std::sin(1.7 * i);
    if (i == 500 || (i > 1000 && i < 1100)) continue;
    c.times.push_back(t);
    c.samples.push_back(static_cast<float>(std::sin(2.0 * std::numbers::pi * 3.0 * t)));
  }
  const Signal s = condition(c);
  EXPECT_EQ(s.start, Seconds{c.times.front()});
  ASSERT_EQ(s.values.size(), 2000U);
  ASSERT_EQ(s.gaps.size(), 1U);
  EXPECT_NEAR(s.gaps[0].start.value(), 13.01, 0.011);
  EXPECT_NEAR(s.gaps[0].end.value(), 14.0, 0.011);
  for (std::size_t i = 200; i < 900; ++i) {
    const double t = s.start.value() + static_cast<double>(i) / 100.0;
    ASSERT_NEAR(s.values[i], std::sin(2.0 * std::numbers::pi * 3.0 * t), 0.03) << i;
  }
}

TEST(Condition, RefusesTimesThatDoNotIncreaseOrDoNotMatch) {
  Channel c = channel_of({1, 2, 3}, 100);
  c.times = {0.0, 0.01};
  EXPECT_THROW((void)condition(c), Error);
  c.times = {0.0, 0.02, 0.01};
  EXPECT_THROW((void)condition(c), Error);
  c.times = {0.0, 0.01, 1e12};  // would need a grid of 1e14 samples
  EXPECT_THROW((void)condition(c), Error);
  c.times = {0.0, 0.01, 1e6};  // three samples on a grid of 1e8
  EXPECT_THROW((void)condition(c), Error);
}

TEST(Condition, HumIsFoundAndNotchedOnlyWhereItIs) {
  for (const double rate : {128.0, 250.0, 360.0, 1000.0}) {
    EXPECT_FALSE(condition(channel_of(test::ecg(rate, 60), rate)).mains.has_value()) << rate;
    for (const double hz : {50.0, 60.0}) {
      std::vector<float> x = test::ecg(rate, 60);
      const std::vector<float> hum = test::sine(hz, rate, x.size(), 0.1);
      for (std::size_t i = 0; i < x.size(); ++i) x[i] += hum[i];
      const Signal s = condition(channel_of(x, rate));
      ASSERT_TRUE(s.mains.has_value()) << rate << " " << hz;
      EXPECT_EQ(*s.mains, Hertz{hz});
      EXPECT_TRUE(s.warnings.empty());
      const std::size_t n = x.size();
      EXPECT_LT(test::amplitude(std::span{s.values}.subspan(n / 4, n / 2), hz, rate), 0.002) << rate << " " << hz;
    }
  }
}

TEST(Condition, HumChoiceIsObeyed) {
  ConditionOptions options;
  options.mains = MainsChoice::at_50_hz;
  EXPECT_EQ(condition(channel_of(test::ecg(250, 10), 250), options).mains, Hertz{50});
  EXPECT_FALSE(condition(channel_of(test::ecg(100, 10), 100), options).mains.has_value());  // half the rate is 50 Hz
  std::vector<float> x = test::ecg(250, 30);
  const std::vector<float> hum = test::sine(60, 250, x.size(), 0.1);
  for (std::size_t i = 0; i < x.size(); ++i) x[i] += hum[i];
  options.mains = MainsChoice::none;
  EXPECT_FALSE(condition(channel_of(x, 250), options).mains.has_value());
}

TEST(Condition, LineOfAnotherFrequencyIsNotHum) {
  std::vector<float> x = test::ecg(360, 60);
  const std::vector<float> line = test::sine(55, 360, x.size(), 0.1);
  for (std::size_t i = 0; i < x.size(); ++i) x[i] += line[i];
  EXPECT_FALSE(condition(channel_of(x, 360)).mains.has_value());
}

TEST(Condition, RateTooLowForTheFiltersStillGivesASignal) {
  const Signal s = condition(channel_of({1, 2, 3, 4, 5, 4, 3, 2}, 1.0));
  EXPECT_EQ(s.values.size(), 8U);
  EXPECT_EQ(s.quality.size(), 8U);
}

}  // namespace
}  // namespace pulsewright
