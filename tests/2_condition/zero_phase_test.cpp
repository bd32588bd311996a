#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "2_condition/sine.hpp"
#include "pulsewright/condition.hpp"

namespace pulsewright {
namespace {

TEST(ZeroPhase, GainIsSquaredAndPhaseIsNone) {
  const Sections f = butterworth_bandpass(2, Hertz{5}, Hertz{15}, Hertz{360});
  for (const double hz : {1.0, 5.0, 9.0, 15.0, 40.0}) {
    const std::vector<float> x = test::sine(hz, 360, 36000);
    const std::vector<float> y = filter_zero_phase(f, x);
    const double gain = std::norm(gain_at(f, Hertz{hz}, Hertz{360}));
    for (std::size_t i = 7200; i < 28800; ++i)
      ASSERT_NEAR(y[i], gain * static_cast<double>(x[i]), 2e-6) << hz << " " << i;
  }
}

TEST(ZeroPhase, EveryStretchOfALongSignalIsFilteredAsAShortOneIs) {
  // Long signals are worked on in four stretches at a time. The middle of a short cut around each seam must be the same.
  std::mt19937 engine{5};
  std::vector<float> x(400000);
  float walk = 0.0F;
  for (float& v : x) {
    walk += static_cast<float>(engine()) / static_cast<float>(std::mt19937::max()) - 0.5F;
    v = walk;
  }
  const std::vector<Sections> filters{
      butterworth_highpass(2, Hertz{0.67}, Hertz{360}), butterworth_bandpass(2, Hertz{0.4}, Hertz{8}, Hertz{125}),
      butterworth_lowpass(7, Hertz{8}, Hertz{360}), butterworth_bandstop(6, Hertz{45}, Hertz{55}, Hertz{360})};
  for (const Sections& f : filters) {
    const std::vector<float> whole = filter_zero_phase(f, x);
    for (const std::size_t seam : {100000U, 200000U, 300000U}) {
      // 20,000 samples are too few to be cut for the filters with low corners; the ends have settled after 8000.
      const std::vector<float> part = filter_zero_phase(f, std::span{x}.subspan(seam - 10000, 20000));
      for (std::size_t i = 8000; i < 12000; ++i)
        ASSERT_NEAR(part[i], whole[seam - 10000 + i], 2e-4F) << seam << " " << i;
    }
  }
}

TEST(ZeroPhase, ConstantAndStraightLineComeThroughALowpassUnchangedToTheEnds) {
  const Sections f = butterworth_lowpass(2, Hertz{5}, Hertz{100});
  std::vector<float> line(500);
  for (std::size_t i = 0; i < line.size(); ++i) line[i] = 3.0F + 0.1F * static_cast<float>(i);
  const std::vector<float> y = filter_zero_phase(f, line);
  for (std::size_t i = 0; i < line.size(); ++i) ASSERT_NEAR(y[i], line[i], 0.02F) << i;
  for (const float v : filter_zero_phase(f, std::vector<float>(500, 42.0F))) ASSERT_NEAR(v, 42.0F, 1e-5F);
}

TEST(ZeroPhase, ShortSignalsAreAnswered) {
  const Sections f = butterworth_highpass(2, Hertz{0.05}, Hertz{1000});
  EXPECT_TRUE(filter_zero_phase(f, {}).empty());
  for (std::size_t n = 1; n < 12; ++n) {
    const std::vector<float> y = filter_zero_phase(f, std::vector<float>(n, 5.0F));
    ASSERT_EQ(y.size(), n);
    for (const float v : y) EXPECT_NEAR(v, 0.0F, 1e-5F);
  }
}

TEST(ZeroPhase, WithoutSectionsPassesEverything) {
  const std::vector<float> x = test::sine(1, 10, 20);
  EXPECT_EQ(filter_zero_phase({}, x), x);
}

}  // namespace
}  // namespace pulsewright
