/// Load and perceived exertion against published and hand-computed values.
#include "pulsewright/load.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "rate_series.hpp"

namespace pulsewright {
namespace {

Load load_of(const RateSeries& rates, double maximum, double resting) {
  const std::vector<EffortCell> cells = effort_cells(rates);
  return load_over(cells, BeatsPerMinute{maximum}, BeatsPerMinute{resting});
}

TEST(Load, ImpulseOfThirtyMinutesAtAConstantRateIsTheWorkedValue) {
  // Banister (Morton et al. 1990, J Appl Physiol 69:1171): 30 min at 130, rest 40, maximum 200; derived by arithmetic.
  const Load load = load_of(steady(1800, 130), 200, 40);
  EXPECT_NEAR(load.impulse_men.value(), 31.802539, 1e-6);
  EXPECT_NEAR(load.impulse_women.value(), 37.128518, 1e-6);
  EXPECT_NEAR(load.mean_impulse_men.value(), 31.802539, 1e-6);
}

TEST(Load, TheSessionMeanComesOutLowerThanTheIntegralWhereTheRateVaried) {
  // The worked value of the same source: 15 min at 100, then 15 at 160; 37.8 integrated, 31.8 from the mean, men's coefficients.
  const Load load = load_of(series(1800, 2, 2, [](double t) { return t < 900 ? 100.0 : 160.0; }), 200, 40);
  EXPECT_NEAR(load.impulse_men.value(), 37.8, 0.05);
  EXPECT_NEAR(load.mean_impulse_men.value(), 31.8, 0.05);
}

TEST(Load, WeightedMinutesCountTenthsOfTheMaximumFromHalfUp) {
  // Edwards 1993: one to five. Maximum 200: ten minutes each at 99, 100, 125, 145, 165, 185 and 205.
  const double rates[] = {99, 100, 125, 145, 165, 185, 205};
  const RateSeries session = series(4200, 2, 2, [&](double t) { return rates[static_cast<std::size_t>(t / 600)]; });
  EXPECT_NEAR(load_of(session, 200, 40).weighted_minutes, 10.0 * (0 + 1 + 2 + 3 + 4 + 5 + 5), 1e-9);
}

TEST(Load, IsAdditiveOverSplitSessionsAndBlindToUnmeasuredTime) {
  std::mt19937 random(5);
  const auto uniform = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(random()) / 4294967296.0;
  };
  for (int round = 0; round < 50; ++round) {
    const std::vector<EffortCell> cells = effort_cells(
        series(uniform(30, 900), 8, 2, [&](double) { return random() % 5 == 0 ? -1.0 : uniform(45, 210); }));
    const std::size_t cut = random() % (cells.size() + 1);
    const std::span<const EffortCell> all(cells);
    const Load whole = load_over(all, 205_bpm, 66_bpm);
    const Load first = load_over(all.first(cut), 205_bpm, 66_bpm),
               second = load_over(all.subspan(cut), 205_bpm, 66_bpm);
    EXPECT_NEAR(*whole.impulse_men, *first.impulse_men + *second.impulse_men, 1e-9);
    EXPECT_NEAR(*whole.impulse_women, *first.impulse_women + *second.impulse_women, 1e-9);
    EXPECT_NEAR(whole.weighted_minutes, first.weighted_minutes + second.weighted_minutes, 1e-9);
    std::vector<EffortCell> measured = cells;
    std::erase_if(measured, [](const EffortCell& c) { return !c.rate; });
    EXPECT_NEAR(*load_over(measured, 205_bpm, 66_bpm).impulse_men, *whole.impulse_men, 1e-9);
  }
}

TEST(Load, BelowRestThereIsNoneAndWithoutARestingRateOnlyTheWeightedMinutes) {
  EXPECT_DOUBLE_EQ(impulse_load(10, -0.1, men_impulse), 0.0);
  const std::vector<EffortCell> cells = effort_cells(steady(600, 150));
  const Load load = load_over(cells, 200_bpm, std::nullopt);
  EXPECT_FALSE(load.impulse_men || load.mean_impulse_women);
  EXPECT_NEAR(load.weighted_minutes, 30.0, 1e-9);
  EXPECT_THROW((void)load_over(cells, 60_bpm, 66_bpm), Error);
}

TEST(PerceivedExertion, StandsForTheCategoriesOfTheSource) {
  // ACSM, 10th edition; Garber et al. 2011, MSSE 43:1334: < 9, 9-11, 12-13, 14-17, >= 18.
  using enum Intensity;
  const std::pair<int, Intensity> rows[] = {{6, very_light},    {8, very_light},   {9, light},     {11, light},
                                            {12, moderate},     {13, moderate},    {14, vigorous}, {17, vigorous},
                                            {18, near_maximal}, {20, near_maximal}};
  for (const auto& [exertion, category] : rows) EXPECT_EQ(intensity_of_exertion(exertion), category) << exertion;
  EXPECT_THROW((void)intensity_of_exertion(5), Error);
  EXPECT_THROW((void)intensity_of_exertion(21), Error);
}

}  // namespace
}  // namespace pulsewright
