#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

#include "2_condition/sine.hpp"
#include "pulsewright/condition.hpp"

namespace pulsewright {
namespace {

std::vector<float> noise(std::size_t n, unsigned seed, float offset) {
  std::mt19937 engine{seed};
  std::vector<float> x(n);
  for (float& v : x) v = offset + static_cast<float>(engine()) / static_cast<float>(std::mt19937::max());
  return x;
}

bool same(float a, float b) { return (std::isnan(a) && std::isnan(b)) || a == b; }

TEST(CausalFilter, OutputDoesNotDependOnTheChunks) {
  const std::vector<float> x = noise(5000, 1, 100.0F);
  for (const int order : {1, 2, 4, 6, 8, 11}) {  // 1 to 6 sections
    const Sections f = butterworth_lowpass(order, Hertz{15}, Hertz{360});
    std::vector<float> whole(x.size());
    CausalFilter{f}.process(x, whole);
    for (const std::size_t chunk : {1U, 7U, 1000U}) {
      CausalFilter filter{f};
      std::vector<float> y(x.size());
      for (std::size_t i = 0; i < x.size(); i += chunk) {
        const std::size_t n = std::min<std::size_t>(chunk, x.size() - i);
        filter.process(std::span{x}.subspan(i, n), std::span{y}.subspan(i, n));
      }
      ASSERT_EQ(y, whole) << order << " " << chunk;
    }
  }
}

TEST(CausalFilter, StartsWithoutATransientOnAConstantAndAgainAfterReset) {
  CausalFilter filter{butterworth_bandpass(2, Hertz{5}, Hertz{15}, Hertz{250})};
  std::vector<float> x(100, 1000.0F), y(100);
  filter.process(x, y);
  for (const float v : y) ASSERT_NEAR(v, 0.0F, 1e-3F);
  std::fill(x.begin(), x.end(), -500.0F);
  filter.reset();
  filter.process(x, y);
  for (const float v : y) ASSERT_NEAR(v, 0.0F, 1e-3F);
}

TEST(CausalFilter, WorksInPlace) {
  const Sections f = butterworth_lowpass(3, Hertz{15}, Hertz{360});
  std::vector<float> x = noise(300, 2, 0.0F), y(300);
  CausalFilter{f}.process(x, y);
  CausalFilter{f}.process(x, x);
  EXPECT_EQ(x, y);
}

TEST(CausalFilter, WithoutSectionsPassesEverything) {
  const std::vector<float> x = noise(50, 3, 0.0F);
  std::vector<float> y(50);
  CausalFilter{Sections{}}.process(x, y);
  EXPECT_EQ(x, y);
}

TEST(CausalFilter, RefusesAnOutputOfAnotherLength) {
  std::vector<float> x(10), y(9);
  CausalFilter filter{butterworth_lowpass(2, Hertz{15}, Hertz{360})};
  EXPECT_THROW(filter.process(x, y), Error);
}

TEST(StreamingConditioner, OutputDoesNotDependOnTheChunksAndMissingStaysMissing) {
  std::vector<float> x = noise(5000, 4, 50.0F);
  const float nan = std::numeric_limits<float>::quiet_NaN();
  std::fill_n(x.begin(), 30, nan);
  std::fill_n(x.begin() + 1000, 7, nan);
  std::fill_n(x.begin() + 2995, 400, nan);
  x.back() = nan;
  for (const ChannelKind kind : {ChannelKind::ecg, ChannelKind::pulse}) {
    std::vector<float> whole;
    StreamingConditioner{kind, Hertz{125}}.push(x, whole);
    ASSERT_EQ(whole.size(), x.size());
    for (std::size_t i = 0; i < x.size(); ++i) ASSERT_EQ(std::isnan(whole[i]), std::isnan(x[i])) << i;
    for (const std::size_t chunk : {1U, 7U, 1000U}) {
      StreamingConditioner conditioner{kind, Hertz{125}};
      std::vector<float> y;
      for (std::size_t i = 0; i < x.size(); i += chunk) {
        conditioner.push(std::span{x}.subspan(i, std::min<std::size_t>(chunk, x.size() - i)), y);
      }
      ASSERT_EQ(y.size(), whole.size());
      ASSERT_TRUE(std::equal(y.begin(), y.end(), whole.begin(), same)) << chunk;
    }
  }
}

TEST(StreamingConditioner, RemovesTheBaselineAsTheWholeFileFormDoes) {
  // 0.67 Hz, second order, used once: at 0.067 Hz -40 dB, at 0.67 Hz -3 dB, at 10 Hz nothing.
  StreamingConditioner conditioner{ChannelKind::ecg, Hertz{250}};
  const auto gain = [](double hz) {
    std::vector<float> y;
    StreamingConditioner{ChannelKind::ecg, Hertz{250}}.push(test::sine(hz, 250, 250 * 1000), y);
    return test::amplitude(std::span{y}.subspan(250UL * 500), hz, 250);
  };
  EXPECT_NEAR(20 * std::log10(gain(0.67)), -3.0103, 0.01);
  EXPECT_NEAR(20 * std::log10(gain(0.067)), -40.0, 0.1);
  EXPECT_NEAR(gain(10.0), 1.0, 1e-4);
}

}  // namespace
}  // namespace pulsewright
