/// Statistics of agreement: Bland & Altman's worked example, hand-computed cases, and scipy as an independent witness (tests/golden/make_agreement.py).
#include "pulsewright/paired_agreement.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <numbers>
#include <random>

#include "pulsewright/error.hpp"

namespace pulsewright {
namespace {

using Json = nlohmann::json;

// Bland & Altman 1986, Lancet i:307: peak flow in l/min of 17 people, two readings each by a large (W) and a mini meter (M).
const std::vector<double> w1{494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427};
const std::vector<double> w2{490, 397, 512, 401, 470, 611, 415, 431, 638, 429, 420, 633, 275, 492, 165, 372, 421};
const std::vector<double> m1{512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451};
const std::vector<double> m2{525, 415, 508, 444, 500, 625, 460, 390, 642, 432, 420, 605, 227, 467, 268, 370, 443};

std::vector<PairedValue> paired(const std::vector<double>& reference, const std::vector<double>& test) {
  std::vector<PairedValue> pairs;
  for (std::size_t i = 0; i < reference.size(); ++i)
    pairs.push_back({.reference = reference[i], .test = test[i], .person = i});
  return pairs;
}

Json golden() {
  std::ifstream file{std::string{PULSEWRIGHT_SOURCE_DIR} + "/tests/golden/agreement.json"};
  return Json::parse(file);
}

void expect_estimate(const Estimate& found, const Json& expected, double tolerance) {
  EXPECT_NEAR(found.value, expected[0].get<double>(), tolerance);
  ASSERT_TRUE(found.low && found.high);
  EXPECT_NEAR(*found.low, expected[1].get<double>(), tolerance);
  EXPECT_NEAR(*found.high, expected[2].get<double>(), tolerance);
}

// Digits derived from the paper's data by arithmetic; the paper itself uses 2 SD.
TEST(PeakFlow1986, HasTheBiasSdAndLimitsOfTheWorkedExample) {
  std::vector<double> differences;
  for (std::size_t i = 0; i < w1.size(); ++i) differences.push_back(w1[i] - m1[i]);
  const auto limits = limits_of_agreement(differences);
  ASSERT_TRUE(limits);
  EXPECT_NEAR(limits->bias.value, -2.117647, 5e-7);
  EXPECT_NEAR(limits->sd, 38.765130, 5e-7);
  EXPECT_NEAR(limits->lower.value, -78.097302, 5e-7);
  EXPECT_NEAR(limits->upper.value, 73.862008, 1e-6);  // exactly 73.8620075
  EXPECT_NEAR(limits->bias.value - 2 * limits->sd, -79.65, 0.005);
  EXPECT_NEAR(limits->bias.value + 2 * limits->sd, 75.41, 0.005);
}

TEST(PeakFlow1986, HasTheCorrelationConcordanceErrorAndRepeatability) {
  const auto pairs = paired(w1, m1);
  EXPECT_NEAR(pearson(pairs)->value, 0.943279, 5e-7);
  EXPECT_NEAR(*concordance(pairs, Moments::population), 0.942742, 5e-7);
  EXPECT_NEAR(*concordance(pairs, Moments::sample), 0.942752, 5e-7);
  const PairedAgreement all = paired_agreement(pairs);
  EXPECT_NEAR(all.mean_absolute_percentage_error->value, 8.041345, 5e-6);  // in fractions 8.0413488
  EXPECT_NEAR(*repeatability(w1, w2), 43.293798, 5e-7);
  EXPECT_NEAR(*repeatability(m1, m2), 56.316336, 5e-6);  // to more digits 56.3163334
}

class AgainstScipy : public ::testing::TestWithParam<const char*> {};

TEST_P(AgainstScipy, EveryStatisticIsTheSame) {
  const Json c = golden()[GetParam()];
  std::vector<PairedValue> pairs = paired(c["reference"], c["test"]);
  for (std::size_t i = 0; i < pairs.size(); ++i) pairs[i].person = c["person"][i];
  const PairedAgreement found =
      paired_agreement(pairs, {.margin = c["equivalence"]["margin"].get<double>(), .resamples = 0});
  constexpr double tolerance = 1e-6;
  expect_estimate(found.plain->bias, c["limits"]["bias"], tolerance);
  EXPECT_NEAR(found.plain->sd, c["limits"]["sd"].get<double>(), tolerance);
  expect_estimate(found.plain->lower, c["limits"]["lower"], 1e-5);
  expect_estimate(found.plain->upper, c["limits"]["upper"], 1e-5);
  expect_estimate(found.trend->slope, c["trend"]["slope"], tolerance);
  EXPECT_NEAR(found.trend->p, c["trend"]["p"].get<double>(), tolerance);
  EXPECT_NEAR(found.trend_slope->value, c["trend"]["slope"][0].get<double>(), tolerance);
  expect_estimate(found.trend->spread_slope, c["spread"]["slope"], tolerance);
  EXPECT_NEAR(found.trend->spread_p, c["spread"]["p"].get<double>(), tolerance);
  expect_estimate(*pearson(pairs), c["pearson"], tolerance);
  EXPECT_NEAR(found.correlation->value, c["pearson"][0].get<double>(), tolerance);
  expect_estimate(found.intraclass->one_way, c["intraclass"]["one_way"], tolerance);
  expect_estimate(found.intraclass->agreement, c["intraclass"]["agreement"], tolerance);
  expect_estimate(found.intraclass->consistency, c["intraclass"]["consistency"], tolerance);
  EXPECT_NEAR(found.equivalence->p, c["equivalence"]["p"].get<double>(), tolerance);
  expect_estimate(found.equivalence->bias, c["equivalence"]["bias"], tolerance);
  expect_estimate(found.ratio->ratio, c["ratio"]["bias"], tolerance);
  expect_estimate(found.ratio->lower, c["ratio"]["lower"], tolerance);
  expect_estimate(found.ratio->upper, c["ratio"]["upper"], tolerance);
  EXPECT_NEAR(found.concordance_population->value, c["concordance"].get<double>(), tolerance);
  EXPECT_NEAR(found.mean_absolute_error->value, c["mean_absolute"].get<double>(), tolerance);
  EXPECT_NEAR(found.mean_absolute_percentage_error->value, c["mean_absolute_percent"].get<double>(), tolerance);
  EXPECT_NEAR(found.root_mean_square_error->value, c["root_mean_square"].get<double>(), tolerance);
  EXPECT_NEAR(found.within_5_percent->value, c["within"][0].get<double>(), tolerance);
  EXPECT_NEAR(found.within_10_percent->value, c["within"][1].get<double>(), tolerance);
  EXPECT_NEAR(found.within_ec13_percent->value, c["within"][2].get<double>(), tolerance);
}

INSTANTIATE_TEST_SUITE_P(Cases, AgainstScipy, ::testing::Values("peak_flow", "rates"),
                         [](const auto& set) { return std::string(set.param); });

// Three people, two differences each: {1, 3}, {2, 6}, {7, 5}. By hand: means 2, 4, 6, grand mean 4; between 2 (4 + 0 + 4) = 16 on 2 degrees, mean square 8;
// within 2 + 8 + 2 = 12 on 3 degrees, mean square 4; variance between (8 - 4) / 2 = 2, within 4, total 6.
std::vector<PairedValue> balanced_by_hand() {
  std::vector<PairedValue> pairs;
  const std::vector<std::vector<double>> differences{{1, 3}, {2, 6}, {7, 5}};
  for (std::size_t person = 0; person < 3; ++person)
    for (const double d : differences[person]) pairs.push_back({.reference = 100, .test = 100 + d, .person = person});
  return pairs;
}

TEST(RepeatedLimits, AreThoseOfABalancedCaseWorkedByHand) {
  const auto found = repeated_limits(balanced_by_hand());
  ASSERT_TRUE(found);
  EXPECT_NEAR(found->mean_square_between, 8, 1e-12);
  EXPECT_NEAR(found->mean_square_within, 4, 1e-12);
  EXPECT_NEAR(found->between_variance, 2, 1e-12);
  EXPECT_NEAR(found->within_variance, 4, 1e-12);
  EXPECT_NEAR(found->limits.sd, std::sqrt(6.0), 1e-12);
  EXPECT_NEAR(found->limits.bias.value, 4, 1e-12);
  EXPECT_NEAR(found->limits.lower.value, 4 - 1.96 * std::sqrt(6.0), 1e-12);
  // The bias as the mean of three people's means 2, 4, 6: t(0.975, 2) = 4.302653 (table) times 2 / sqrt 3.
  EXPECT_NEAR(*found->limits.bias.high, 4 + 4.302653 * 2 / std::sqrt(3.0), 1e-5);
}

// Unequal numbers, {1, 3} and {2, 6, 4}: grand mean 3.2; between 2 x 1.44 + 3 x 0.64 = 4.8; within 2 + 8 = 10 on 3 degrees; divisor (25 - 13) / 5 = 2.4.
TEST(RepeatedLimits, OfUnequalNumbersUseTheDivisorOfBlandAndAltman2007) {
  std::vector<PairedValue> pairs;
  for (const double d : {1.0, 3.0}) pairs.push_back({.reference = 0, .test = d, .person = 7});
  for (const double d : {2.0, 6.0, 4.0}) pairs.push_back({.reference = 0, .test = d, .person = 9});
  const auto found = repeated_limits(pairs);
  ASSERT_TRUE(found);
  EXPECT_NEAR(found->limits.bias.value, 3.2, 1e-12);
  EXPECT_NEAR(found->mean_square_between, 4.8, 1e-12);
  EXPECT_NEAR(found->within_variance, 10.0 / 3, 1e-12);
  EXPECT_NEAR(found->between_variance, (4.8 - 10.0 / 3) / 2.4, 1e-12);
}

/// Differences with known components: people's biases SD `between`, around them SD `within`, true bias 2.
std::vector<PairedValue> drawn(std::mt19937_64& bits, std::size_t people, int least, int most, double between,
                               double within) {
  std::normal_distribution<double> normal;
  std::uniform_int_distribution<int> number(least, most);
  std::vector<PairedValue> pairs;
  for (std::size_t person = 0; person < people; ++person) {
    const double own = 2 + between * normal(bits);
    for (int k = number(bits); k > 0; --k) {
      const double reference = 100 + 20 * normal(bits);
      pairs.push_back({.reference = reference, .test = reference + own + within * normal(bits), .person = person});
    }
  }
  return pairs;
}

TEST(RepeatedLimits, RecoverKnownVarianceComponents) {
  std::mt19937_64 bits(5);
  double between = 0, within = 0;
  constexpr int studies = 400;
  for (int k = 0; k < studies; ++k) {
    const auto found = repeated_limits(drawn(bits, 30, 4, 16, 3, 4));
    between += found->between_variance / studies;
    within += found->within_variance / studies;
  }
  EXPECT_NEAR(between, 9, 0.4);  // standard error of the mean of 400 studies: 0.13
  EXPECT_NEAR(within, 16, 0.3);
}

struct Coverage {
  double repeated_upper = 0, plain_upper = 0, bootstrap_bias = 0, bootstrap_error = 0;
};

Coverage coverage(int least, int most, double between, double within, int studies) {
  std::mt19937_64 bits(11);
  const double sd = std::sqrt(between * between + within * within);
  const double upper = 2 + 1.96 * sd;
  // Mean absolute value of a normal variable with mean 2 (its formula is the folded normal's).
  const double absolute =
      sd * std::sqrt(2 / std::numbers::pi) * std::exp(-2 / (sd * sd)) + 2 * std::erf(2 / (sd * std::sqrt(2.0)));
  Coverage share;
  const auto holds = [](const Estimate& e, double truth) { return *e.low <= truth && truth <= *e.high ? 1.0 : 0.0; };
  for (int k = 0; k < studies; ++k) {
    const auto found = paired_agreement(drawn(bits, 20, least, most, between, within),
                                        {.seed = static_cast<std::uint64_t>(k), .resamples = 1000});
    share.repeated_upper += 100 * holds(found.repeated->limits.upper, upper) / studies;
    share.plain_upper += 100 * holds(found.plain->upper, upper) / studies;
    share.bootstrap_bias += 100 * holds(*found.bias, 2) / studies;
    share.bootstrap_error += 100 * holds(*found.mean_absolute_error, absolute) / studies;
  }
  return share;
}

// 600 studies: an interval that covers 95 % is seen to cover 93.2 to 96.8 % in 95 of a hundred such tests.
TEST(Intervals, OverPeopleCoverNear95PercentWherePairsOfAPersonAreAlike) {
  const Coverage c = coverage(8, 24, 3, 4, 600);
  RecordProperty("repeated_upper_percent", std::to_string(c.repeated_upper));
  RecordProperty("bootstrap_bias_percent", std::to_string(c.bootstrap_bias));
  RecordProperty("bootstrap_error_percent", std::to_string(c.bootstrap_error));
  RecordProperty("plain_upper_percent", std::to_string(c.plain_upper));
  EXPECT_NEAR(c.bootstrap_bias, 95, 2.5);
  EXPECT_NEAR(c.bootstrap_error, 95, 3);
  EXPECT_NEAR(c.repeated_upper, 95, 2.5);
  EXPECT_LT(c.plain_upper, 85);  // what taking pairs for independent would claim
}

TEST(Intervals, OfPlainLimitsAreExactForIndependentDifferences) {
  std::mt19937_64 bits(3);
  std::normal_distribution<double> normal;
  int bias = 0, upper = 0, lower = 0;
  constexpr int studies = 4000;
  for (int k = 0; k < studies; ++k) {
    std::vector<double> differences(8);
    for (double& d : differences) d = 1 + 2 * normal(bits);
    const auto found = limits_of_agreement(differences);
    bias += *found->bias.low <= 1 && 1 <= *found->bias.high;
    upper += *found->upper.low <= 1 + 3.92 && 1 + 3.92 <= *found->upper.high;
    lower += *found->lower.low <= 1 - 3.92 && 1 - 3.92 <= *found->lower.high;
  }
  for (const int count : {bias, upper, lower}) EXPECT_NEAR(100.0 * count / studies, 95, 1.0);  // 3 standard errors
}

TEST(Intervals, AreTheSameForTheSameSeedAndMoveWithAnother) {
  std::mt19937_64 bits(9);
  const auto pairs = drawn(bits, 12, 3, 9, 2, 3);
  const auto once = paired_agreement(pairs, {.seed = 4}), again = paired_agreement(pairs, {.seed = 4});
  const auto other = paired_agreement(pairs, {.seed = 5});
  EXPECT_EQ(*once.bias->low, *again.bias->low);
  EXPECT_NE(*once.bias->low, *other.bias->low);
}

TEST(PairedAgreement, OfFewerThanFivePeopleHasNoIntervalOverPeopleAndSaysWhy) {
  const auto found = paired_agreement(balanced_by_hand());
  EXPECT_FALSE(found.bias->low);
  const auto named = [&](const std::string& measure) {
    return std::any_of(found.reasons.begin(), found.reasons.end(),
                       [&](const Reason& r) { return r.measure == measure; });
  };
  EXPECT_TRUE(named("people_intervals"));
}

TEST(PairedAgreement, OfConstantSeriesHasErrorsButNoCorrelation) {
  const auto found = paired_agreement(paired({70, 70, 70, 70}, {72, 72, 72, 72}));
  EXPECT_DOUBLE_EQ(found.plain->bias.value, 2);
  EXPECT_DOUBLE_EQ(found.plain->sd, 0);
  EXPECT_DOUBLE_EQ(*found.plain->upper.high, 2);
  EXPECT_DOUBLE_EQ(found.mean_absolute_error->value, 2);
  EXPECT_FALSE(found.correlation);
  EXPECT_FALSE(found.concordance_population);
  EXPECT_FALSE(found.trend);
  EXPECT_TRUE(found.equivalence->equivalent);
}

TEST(PairedAgreement, OfNoPairsOrOneHasNothingToSay) {
  EXPECT_EQ(paired_agreement({}).pairs, 0U);
  EXPECT_FALSE(paired_agreement({}).bias);
  const std::vector<PairedValue> one{{.reference = 60, .test = 61}};
  const auto found = paired_agreement(one);
  EXPECT_FALSE(found.plain);
  EXPECT_DOUBLE_EQ(found.mean_absolute_error->value, 1);
  EXPECT_THROW(static_cast<void>(paired_agreement(std::vector<PairedValue>{{.reference = NAN, .test = 1}})), Error);
}

TEST(PairedAgreement, CountsHowOftenTheTestsOwnIntervalHoldsTheReference) {
  const std::vector<PairedValue> pairs{{.reference = 60, .test = 61, .low = 59, .high = 63},
                                       {.reference = 70, .test = 75, .low = 72, .high = 78},
                                       {.reference = 80, .test = 80}};
  const auto found = paired_agreement(pairs);
  EXPECT_EQ(found.with_interval, 2U);
  EXPECT_DOUBLE_EQ(found.interval_covers_percent->value, 50);
  EXPECT_DOUBLE_EQ(*found.mean_interval_width, 5);
}

TEST(Equivalence, DependsOnTheMarginAndOnPeopleNotPairs) {
  const auto pairs = balanced_by_hand();
  EXPECT_EQ(equivalence(pairs, 20)->units, 3U);
  EXPECT_TRUE(equivalence(pairs, 20)->equivalent);
  EXPECT_FALSE(equivalence(pairs, 5)->equivalent);
  EXPECT_THROW(static_cast<void>(equivalence(pairs, 0)), Error);
}

TEST(TrendOfDifferences, FindsAProportionalBiasAndAGrowingSpread) {
  std::mt19937_64 bits(2);
  std::normal_distribution<double> normal;
  std::vector<PairedValue> pairs;
  for (std::size_t i = 0; i < 400; ++i) {
    const double reference = 60 + 0.3 * static_cast<double>(i);
    pairs.push_back({.reference = reference, .test = 1.05 * reference + 0.02 * reference * normal(bits), .person = i});
  }
  const auto found = trend_of_differences(pairs);
  EXPECT_NEAR(found->slope.value, 0.05 / 1.025, 0.02);
  EXPECT_LT(found->p, 1e-4);
  EXPECT_LT(found->spread_p, 1e-4);
  EXPECT_NEAR(found->half_width_at(160), 1.96 * 0.02 * 160, 1.2);
  EXPECT_NEAR(found->bias_at(102.5), 5, 1);
}

TEST(PlanLimits, GivesTheSmallestNumberThatIsNarrowEnough) {
  const Json rows = golden()["half_width"];
  for (const Json& row : rows)
    EXPECT_NEAR(limits_half_width(row[0], row[1].get<std::size_t>()), row[2].get<double>(), 1e-6);
  const LimitsPlan plan = plan_limits(5, 2);
  EXPECT_LE(limits_half_width(5, plan.needed), 2);
  EXPECT_GT(limits_half_width(5, plan.needed - 1), 2);
  EXPECT_EQ(plan.approximate, 73U);  // 3 (1.96 x 5 / 2)^2 = 72.03
  EXPECT_THROW(static_cast<void>(plan_limits(5, 0)), Error);
  EXPECT_THROW(static_cast<void>(plan_limits(5, 1e-4)), Error);
}

}  // namespace
}  // namespace pulsewright
