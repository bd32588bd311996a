#include "3_beats/ecg/whitening.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace pulsewright::beats_stage {
namespace {

/// x[n] = coefficient x[n - 1] + white noise.
std::vector<float> coloured(double coefficient, std::size_t size) {
  std::mt19937 random(11);
  std::normal_distribution<double> noise;
  std::vector<float> series;
  double x = 0;
  for (std::size_t i = 0; i < size; ++i) series.push_back(static_cast<float>(x = coefficient * x + noise(random)));
  return series;
}

double correlation_at(const std::vector<float>& series, std::size_t lag) {
  double sum = 0, squares = 0;
  for (std::size_t i = lag; i < series.size(); ++i) {
    sum += static_cast<double>(series[i]) * static_cast<double>(series[i - lag]);
    squares += static_cast<double>(series[i]) * static_cast<double>(series[i]);
  }
  return sum / squares;
}

TEST(Whitening, OfAFirstOrderProcessGivesBackItsNoise) {
  // The best prediction of x[n] is 0.9 x[n - 1], so that what is left is the noise, of standard
  // deviation 1.
  const std::vector<float> series = coloured(0.9, 20000);
  const std::vector<float> white = whitened(series, {{0, series.size()}});
  ASSERT_EQ(white.size(), series.size());
  EXPECT_GT(correlation_at(series, 1), 0.88);
  double squares = 0;
  for (std::size_t i = 6; i < series.size(); ++i) {
    EXPECT_NEAR(white[i], series[i] - 0.9F * series[i - 1], 0.35F);
    squares += static_cast<double>(white[i]) * static_cast<double>(white[i]);
  }
  EXPECT_NEAR(squares / 20000.0, 1.0, 0.03);
  for (const std::size_t lag : {1U, 2U, 3U, 6U}) EXPECT_NEAR(correlation_at(white, lag), 0.0, 0.02) << lag;
}

TEST(Whitening, LearnsFromTheGivenSpansOnly) {
  std::vector<float> series = coloured(0.9, 8000);
  const std::vector<float> alternating = coloured(-0.8, 8000);
  series.insert(series.end(), alternating.begin(), alternating.end());
  const std::vector<float> white = whitened(series, {{8000, 16000}});
  for (std::size_t i = 9000; i < 9100; ++i) EXPECT_NEAR(white[i], series[i] + 0.8F * series[i - 1], 0.35F);
}

TEST(Whitening, KeepsTheSamplesThatHaveNothingBeforeThem) {
  // One impulse predicts nothing: its autocorrelation is 0 but at lag 0, and the filter passes it
  // as it is.
  std::vector<float> impulse(100, 0.0F);
  impulse[40] = 2.0F;
  EXPECT_EQ(whitened(impulse, {{0, 100}}), impulse);
  EXPECT_EQ(whitened(std::vector<float>(50, 0.0F), {{0, 50}}), std::vector<float>(50, 0.0F));
  EXPECT_EQ(whitened({1, 2, 3}, {}), (std::vector<float>{1, 2, 3}));
}

}  // namespace
}  // namespace pulsewright::beats_stage
