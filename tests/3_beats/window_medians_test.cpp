#include "3_beats/window_medians.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <vector>

namespace pulsewright::beats_stage {
namespace {

TEST(WindowMedians, AreThoseOfASeriesWorkedByHand) {
  const std::vector<float> values{5, 1, 4, 2, 3, 9};
  // 5 1 4 | 5 1 4 2 | 5 1 4 2 3 | 1 4 2 3 9 | 4 2 3 9 | 2 3 9, and of an even number the upper one
  // of the two in the middle.
  EXPECT_EQ(window_medians(values, 2), (std::vector<float>{4, 4, 3, 3, 4, 3}));
  EXPECT_EQ(window_medians(values, 2, 2), (std::vector<float>{4, 3, 4}));
  EXPECT_EQ(window_medians(values, 0), values);
  EXPECT_EQ(window_medians(values, 50), std::vector<float>(6, 4));
}

TEST(WindowMedians, OfNothingAreNothingAndOfOneValueAreTheValue) {
  EXPECT_TRUE(window_medians({}, 3).empty());
  EXPECT_EQ(window_medians(std::vector<float>{7}, 3), std::vector<float>{7});
}

TEST(WindowMedians, AreThoseOfSortingEveryWindow) {
  std::mt19937 random(3);
  std::vector<float> values(700);
  for (float& v : values) v = static_cast<float>(random() % 50);  // many equal ones
  for (const std::size_t reach : {1U, 7U, 40U}) {
    const std::vector<float> medians = window_medians(values, reach);
    ASSERT_EQ(medians.size(), values.size());
    for (std::size_t k = 0; k < values.size(); ++k) {
      const std::size_t first = k - std::min(k, reach), last = std::min(values.size(), k + reach + 1);
      std::vector<float> window(values.begin() + static_cast<std::ptrdiff_t>(first),
                                values.begin() + static_cast<std::ptrdiff_t>(last));
      std::sort(window.begin(), window.end());
      ASSERT_EQ(medians[k], window[window.size() / 2]) << reach << ' ' << k;
    }
  }
}

}  // namespace
}  // namespace pulsewright::beats_stage
