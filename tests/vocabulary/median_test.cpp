// Medians of lists, by hand.
#include "pulsewright/median.hpp"

#include <gtest/gtest.h>

#include <vector>

namespace pulsewright {
namespace {

TEST(Median, OfAnOddNumberIsTheMiddleValueBothWays) {
  std::vector<double> values{5, 1, 3};
  EXPECT_EQ(upper_median(std::span(values)), 3);
  EXPECT_EQ(median(values), 3);
}

TEST(Median, OfAnEvenNumberIsTheUpperOfTheTwoOrTheirMean) {
  std::vector<double> values{7, 1, 5, 3};
  EXPECT_EQ(upper_median(std::span(values)), 5);
  EXPECT_EQ(median(values), 4);
}

TEST(Median, OfOneValueIsThatValue) {
  std::vector<float> one{2.5F};
  EXPECT_EQ(upper_median(std::span(one)), 2.5F);
}

}  // namespace
}  // namespace pulsewright
