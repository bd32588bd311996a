/// Statistics of people who are not alike: a published mixed model, numpy and scipy as independent witnesses, and simulated studies whose truth is
/// known (tests/accuracy/limits_coverage.cpp prints many more).
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <random>

#include "pulsewright/mixed_model.hpp"
#include "pulsewright/paired_agreement.hpp"

namespace pulsewright {
namespace {

using Json = nlohmann::json;

// Travel times in six rails, three a rail, and their fit by restricted maximum likelihood: Pinheiro & Bates 2000, Mixed-Effects Models in S and S-PLUS,
// section 1.1 (data from Devore 2000).
TEST(MixedModel, HasTheEstimatesOfThePublishedRails) {
  const std::vector<double> travel{55, 53, 54, 26, 37, 32, 78, 91, 85, 92, 100, 96, 49, 51, 50, 80, 85, 83};
  std::vector<std::size_t> rail;
  for (std::size_t i = 0; i < travel.size(); ++i) rail.push_back(i / 3);
  const auto found = mixed_model(travel, rail);
  ASSERT_TRUE(found);
  EXPECT_NEAR(found->effects.front().value.value, 66.5, 1e-6);
  EXPECT_NEAR(found->effects.front().error, 10.17104, 1e-4);
  EXPECT_NEAR(std::sqrt(found->between_variance), 24.80547, 1e-3);
  EXPECT_NEAR(std::sqrt(found->within_variance), 4.020779, 1e-4);
  EXPECT_NEAR(found->log_likelihood, -61.0885, 1e-4);
}

TEST(MixedModel, OfUnequalPeopleWithColumnsIsThatOfTheWholeCovarianceMatrix) {
  std::ifstream file{std::string{PULSEWRIGHT_SOURCE_DIR} + "/tests/golden/agreement.json"};
  const Json c = Json::parse(file)["mixed"];
  const auto y = c["y"].get<std::vector<double>>();
  const auto group = c["group"].get<std::vector<std::size_t>>();
  const std::vector<ModelColumn> columns{{"third", c["columns"][0].get<std::vector<double>>()},
                                         {"rate", c["columns"][1].get<std::vector<double>>()}};
  const auto found = mixed_model(y, group, columns);
  ASSERT_TRUE(found);
  for (std::size_t k = 0; k < 3; ++k) {
    EXPECT_NEAR(found->effects[k].value.value, c["effects"][k].get<double>(), 1e-4);
    EXPECT_NEAR(found->effects[k].error, c["errors"][k].get<double>(), 1e-4);
  }
  EXPECT_NEAR(found->between_variance, c["between"].get<double>(), 1e-3);
  EXPECT_NEAR(found->within_variance, c["within"].get<double>(), 1e-3);
  EXPECT_NEAR(found->log_likelihood, c["log_likelihood"].get<double>(), 1e-6);
  EXPECT_EQ(found->effects[1].name, "third");
  EXPECT_EQ(found->influence.size(), 8U);
}

TEST(MixedModel, LeavesOutPeopleAsIfTheyHadNotBeenThere) {
  // Equal numbers: the mean of means, whatever the variances are.
  const std::vector<double> y{1, 3, 5, 7, 12, 14};
  const std::vector<std::size_t> person{4, 4, 7, 7, 9, 9};
  const auto found = mixed_model(y, person);
  ASSERT_TRUE(found);
  EXPECT_NEAR(found->effects.front().value.value, 7, 1e-9);  // of 2, 6 and 13
  EXPECT_EQ(found->influence[2].person, 9U);
  EXPECT_NEAR(found->influence[2].change.front(), -3, 1e-9);
  // Jackknife of a mean: its ordinary standard error, sqrt(31 / 3).
  EXPECT_NEAR(found->effects.front().over_people, std::sqrt(31.0 / 3), 1e-9);
}

TEST(MixedModel, SaysNothingWhereColumnsDependOnEachOtherOrPeopleAreFew) {
  const std::vector<double> y{1, 2, 3, 4, 5};
  const std::vector<std::size_t> one{0, 0, 0, 0, 0}, two{0, 0, 1, 1, 1};
  EXPECT_FALSE(mixed_model(y, one));
  EXPECT_TRUE(mixed_model(y, two));
  const std::vector<ModelColumn> same{{"a", {1, 2, 3, 4, 4}}, {"b", {2, 4, 6, 8, 8}}};
  EXPECT_FALSE(mixed_model(y, two, same));
}

// Four people, one of whom the sensor fails and hardly answers: 30, 30, 30 and 2 pairs.
TEST(BiasOfPeople, CountsAPersonWithFewAnswersAsOne) {
  std::vector<PairedValue> pairs;
  for (std::size_t person = 0; person < 4; ++person)
    for (int k = 0; k < (person < 3 ? 30 : 2); ++k)
      pairs.push_back({.reference = 100, .test = (person < 3 ? 100.0 : 70.0) + k % 2, .person = person});
  const PairedAgreement found = paired_agreement(pairs);
  ASSERT_TRUE(found.of_people);
  EXPECT_NEAR(found.bias->value, 0.5 - 60.0 / 92, 1e-9);
  EXPECT_NEAR(found.of_people->mean.value, 0.5 - 7.5, 1e-9);
  ASSERT_TRUE(found.of_people->mixed);
  EXPECT_NEAR(found.of_people->mixed->effects.front().value.value, -7.0,
              0.2);  // people differ far more than their pairs
  ASSERT_EQ(found.of_people->people.size(), 4U);
  EXPECT_EQ(found.of_people->people[3].pairs, 2U);
  EXPECT_NEAR(found.of_people->people[3].bias, -29.5, 1e-9);
}

struct Study {
  std::size_t people;
  double log_sd, dependent;
};

/// People's SDs log-normal around 1, their biases normal with SD 1, differences an autoregression.
std::vector<PairedValue> drawn(const Study& study, std::mt19937_64& bits) {
  std::normal_distribution<double> normal;
  std::vector<PairedValue> pairs;
  for (std::size_t person = 0; person < study.people; ++person) {
    const double sd = std::exp(study.log_sd * normal(bits)), own = normal(bits);
    double now = normal(bits);
    for (int k = 0; k < 60; ++k) {
      const double reference = 100 + 20 * normal(bits);
      pairs.push_back({.reference = reference, .test = reference + own + sd * now, .person = person});
      now = study.dependent * now + std::sqrt(1 - study.dependent * study.dependent) * normal(bits);
    }
  }
  return pairs;
}

// Of 200 studies, an interval that holds 95 % holds 180 or fewer about once in a thousand tests.
class UnequalPeople : public ::testing::TestWithParam<Study> {};

TEST_P(UnequalPeople, IntervalsOfLimitsAndSdHoldTheTruth) {
  const Study& study = GetParam();
  std::mt19937_64 bits(23);
  constexpr int studies = 200, fewest = 181;
  const double sd = std::sqrt(1 + std::exp(2 * study.log_sd * study.log_sd));
  int lower = 0, upper = 0, spread = 0;
  const auto holds = [](const Estimate& e, double truth) { return *e.low <= truth && truth <= *e.high ? 1 : 0; };
  for (int k = 0; k < studies; ++k) {
    const auto found = repeated_limits(drawn(study, bits));
    lower += holds(found->limits.lower, -1.96 * sd);
    upper += holds(found->limits.upper, 1.96 * sd);
    spread += holds(found->sd, sd);
  }
  for (const int held : {lower, upper, spread}) EXPECT_GE(held, fewest);
}

INSTANTIATE_TEST_SUITE_P(Studies, UnequalPeople,
                         ::testing::Values(Study{8, 0, 0}, Study{8, 0.8, 0.7}, Study{14, 0.8, 0.7},
                                           Study{30, 1.2, 0.7}));

TEST(UnequalPeople, OfFewerThanFiveHaveNoIntervalsOfLimits) {
  std::mt19937_64 bits(1);
  const auto found = repeated_limits(drawn({4, 0.8, 0}, bits));
  ASSERT_TRUE(found);
  EXPECT_FALSE(found->limits.lower.low);
  EXPECT_TRUE(found->limits.bias.low);
}

TEST(UnequalPeople, WhoseDifferencesNeverVaryHaveIntervalsOfNoWidth) {
  std::vector<PairedValue> pairs;
  for (std::size_t i = 0; i < 40; ++i) pairs.push_back({.reference = 70, .test = 70, .person = i / 5});
  const auto found = repeated_limits(pairs);
  ASSERT_TRUE(found);
  EXPECT_DOUBLE_EQ(*found->limits.upper.high, 0);
  // One of them shows whole numbers and never varies; the others do.
  for (std::size_t i = 5; i < 40; ++i) pairs[i].test += static_cast<double>(i % 3);
  const auto mixed = repeated_limits(pairs);
  EXPECT_GT(*mixed->limits.upper.high, mixed->limits.upper.value);
  EXPECT_LT(*mixed->limits.upper.high, 100);
}

}  // namespace
}  // namespace pulsewright
