#include <gtest/gtest.h>

#include <cmath>

#include "2_condition/sine.hpp"
#include "pulsewright/condition.hpp"

namespace pulsewright {
namespace {

struct Ratio {
  int up, down;
};

TEST(Resample, KeepsTheSineInThePassBandAndItsPlaceInTime) {
  for (const Ratio r : {Ratio{25, 36}, Ratio{36, 25}, Ratio{1, 4}, Ratio{4, 1}, Ratio{2, 3}, Ratio{50, 18}}) {
    const double rate = 360.0;
    const double new_rate = rate * r.up / r.down;
    for (const double share : {0.05, 0.5, 0.84}) {  // of half the lower rate; the pass band ends at 0.85
      const double hz = share * std::min(rate, new_rate) / 2.0;
      const std::vector<float> y = resample(test::sine(hz, rate, 7200), r.up, r.down);
      ASSERT_EQ(y.size(), static_cast<std::size_t>(std::ceil(7200.0 * r.up / r.down)));
      const std::size_t edge = y.size() / 4;
      for (std::size_t k = edge; k < y.size() - edge; ++k) {
        const double truth = std::sin(2.0 * std::numbers::pi * hz * static_cast<double>(k) / new_rate);
        ASSERT_NEAR(y[k], truth, 3e-4) << r.up << "/" << r.down << " " << hz << " Hz at " << k;
      }
    }
  }
}

TEST(Resample, StopsWhatWouldFoldBackBy80Decibels) {
  for (const double hz : {46.0, 60.0, 90.0, 130.0, 179.0}) {  // above half of the new rate of 90 Hz
    const std::vector<float> y = resample(test::sine(hz, 360, 36000), 1, 4);
    double largest = 0.0;
    for (std::size_t k = 1000; k < y.size() - 1000; ++k)
      largest = std::max(largest, std::abs(static_cast<double>(y[k])));
    EXPECT_LT(largest, 1.1e-4) << hz;
  }
}

TEST(Resample, ConstantStaysExactlyConstantToTheEnds) {
  for (const Ratio r : {Ratio{25, 36}, Ratio{36, 25}, Ratio{1, 10}, Ratio{7, 1}}) {
    for (const float v : resample(std::vector<float>(300, 1024.0F), r.up, r.down)) ASSERT_NEAR(v, 1024.0F, 1e-3F);
  }
}

TEST(Resample, EqualRatesAndEmptyInputPassUnchanged) {
  const std::vector<float> x = test::sine(3, 100, 50);
  EXPECT_EQ(resample(x, 5, 5), x);
  EXPECT_TRUE(resample({}, 2, 3).empty());
  EXPECT_EQ(resample(std::vector<float>{2.0F}, 3, 1), (std::vector<float>{2.0F, 2.0F, 2.0F}));
}

TEST(Resample, RefusesARatioThatIsNotPositive) {
  EXPECT_THROW((void)resample(std::vector<float>(5), 0, 1), Error);
  EXPECT_THROW((void)resample(std::vector<float>(5), 1, -1), Error);
}

}  // namespace
}  // namespace pulsewright
