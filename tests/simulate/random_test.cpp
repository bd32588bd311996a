#include "../../dsp/simulate/random.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace pulsewright::simulation {
namespace {

// Reference outputs of the authors' public-domain programs, from memory.
TEST(RandomNumbers, SplitMixGivesThePublishedSequence) {
  std::uint64_t state = 1234567;
  EXPECT_EQ(split_mix(state), 6457827717110365317U);
  EXPECT_EQ(split_mix(state), 3203168211198807973U);
  EXPECT_EQ(split_mix(state), 9817491932198370423U);
}

TEST(RandomNumbers, XoshiroGivesThePublishedSequence) {
  Random random({1, 2, 3, 4});
  const std::vector<std::uint64_t> expected{11520, 0, 1509978240, 1215971899390074240U, 1216172134540287360U};
  for (const std::uint64_t e : expected) EXPECT_EQ(random.bits(), e);
}

TEST(RandomNumbers, StreamsOfOneSeedDiffer) {
  Random a(1, Stream::breathing);
  Random b(1, Stream::jitter);
  Random c(2, Stream::breathing);
  const std::uint64_t first = a.bits();
  EXPECT_NE(first, b.bits());
  EXPECT_NE(first, c.bits());
}

TEST(RandomNumbers, GaussianHasTheMomentsAndTailsOfTheNormalLaw) {
  Random random(5, Stream::observer);
  constexpr int n = 400000;
  double sum = 0;
  double square = 0;
  double fourth = 0;
  int beyond_two = 0;
  for (int i = 0; i < n; ++i) {
    const double x = random.gaussian();
    sum += x;
    square += x * x;
    fourth += x * x * x * x;
    beyond_two += std::abs(x) > 2.0 ? 1 : 0;
  }
  EXPECT_NEAR(sum / n, 0.0, 4.0 / std::sqrt(n));  // 4 standard errors
  EXPECT_NEAR(square / n, 1.0, 4.0 * std::sqrt(2.0 / n));
  EXPECT_NEAR(fourth / n, 3.0, 4.0 * std::sqrt(96.0 / n));
  EXPECT_NEAR(beyond_two / static_cast<double>(n), std::erfc(std::sqrt(2.0)), 0.0015);  // 4.55 %
}

TEST(RandomNumbers, UniformFillsTheUnitIntervalEvenly) {
  Random random(6, Stream::observer);
  std::vector<int> cells(10, 0);
  for (int i = 0; i < 100000; ++i) {
    const double u = random.uniform();
    ASSERT_GE(u, 0.0);
    ASSERT_LT(u, 1.0);
    ++cells[static_cast<std::size_t>(10.0 * u)];
  }
  for (const int count : cells) EXPECT_NEAR(count, 10000, 400);
}

TEST(RandomNumbers, ExponentialHasItsMean) {
  Random random(7, Stream::observer);
  double sum = 0;
  for (int i = 0; i < 100000; ++i) sum += random.exponential_with_mean(4.0);
  EXPECT_NEAR(sum / 100000, 4.0, 0.06);
}

}  // namespace
}  // namespace pulsewright::simulation
