/// Records put together: people, groups, warnings, verdicts.
#include "pulsewright/rate_study.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>

namespace pulsewright {
namespace {

/// A record of pairs with that error.
ComparedRecord made(const std::string& person, const std::string& condition, double error, std::size_t count = 20) {
  std::mt19937_64 bits(std::hash<std::string>{}("fixed") ^ count);
  ComparedRecord record;
  record.facts.name = person + "_" + condition;
  record.facts.person = person;
  record.facts.condition = condition;
  record.reached = FlowStage::analysed;
  for (std::size_t i = 0; i < count; ++i) {
    const double reference = 80 + static_cast<double>(bits() % 60);
    record.pairs.push_back({.reference = reference,
                            .test = reference + error + (i % 2 == 0 ? 1 : -1),
                            .time = Seconds{8.0 * static_cast<double>(i)}});
  }
  record.before = record.pairs;
  record.counts = {count, count, count, count};
  return record;
}

bool warned(const RateStudy& study, const std::string& code) {
  return std::any_of(study.warnings.begin(), study.warnings.end(), [&](const Warning& w) { return w.code == code; });
}

TEST(RateStudy, CountsPeopleByTheirCodeAndConditionsApart) {
  const RateStudy study = rate_study({made("wren", "walking", 1), made("heron", "walking", 2),
                                      made("wren", "running", 8), made("", "running", 0), made("", "running", 0)});
  EXPECT_EQ(study.overall.people, 4U);
  const auto conditions = study.groups_by("condition");
  ASSERT_EQ(conditions.size(), 2U);
  EXPECT_EQ(conditions[0].name, "walking");
  EXPECT_EQ(conditions[0].agreement.people, 2U);
  EXPECT_NEAR(conditions[0].agreement.bias->value, 1.5, 1e-12);
  EXPECT_EQ(study.flow.analysed, 5U);
  EXPECT_TRUE(warned(study, "few_people"));
  EXPECT_FALSE(warned(study, "duplicated_records"));
}

TEST(RateStudy, IsBrokenDownByEveryColumnThatIsStated) {
  ComparedRecord heavy = made("wren", "rest", 1), light = made("heron", "rest", 2), dark = made("plover", "rest", 3);
  heavy.facts.bmi = 30;
  light.facts.bmi = 18.4;
  heavy.facts.device = "clip";
  light.facts.device = dark.facts.device = "band";
  dark.facts.skin_tone = "VI";
  dark.facts.sex = "male";
  dark.reached = FlowStage::readable;  // the test shows nothing: missing, and no error
  dark.left_out = "the test has no rate in any window";
  dark.pairs.clear();
  dark.counts = {20, 20, 20, 0};
  const RateStudy study = rate_study({heavy, light, dark});
  const auto groups = study.groups_by("bmi"), devices = study.groups_by("device"), tones = study.groups_by("skin_tone");
  ASSERT_EQ(groups.size(), 2U);
  EXPECT_EQ(groups[0].name, "<18.5");
  EXPECT_EQ(groups[1].name, ">=30");
  ASSERT_EQ(devices.size(), 2U);
  EXPECT_EQ(devices[1].name, "band");
  EXPECT_EQ(devices[1].recorded, 2U);
  EXPECT_EQ(devices[1].records, 1U);
  EXPECT_NEAR(*devices[1].counts.missing_percent(), 50, 1e-12);
  ASSERT_EQ(tones.size(), 1U);
  EXPECT_NEAR(*tones[0].counts.missing_percent(), 100, 1e-12);
  EXPECT_FALSE(tones[0].agreement.bias);
  EXPECT_EQ(study.groups_by("sex").size(), 1U);
}

TEST(RateStudy, NamesGroupsOfBodyMassIndexByTheirBounds) {
  EXPECT_EQ(bmi_group(18.49), "<18.5");
  EXPECT_EQ(bmi_group(18.5), "18.5-<25");
  EXPECT_EQ(bmi_group(29.9), "25-<30");
  EXPECT_EQ(bmi_group(30), ">=30");
}

TEST(RateStudy, WarnsOfADuplicatedPersonAndOfOneAlone) {
  EXPECT_TRUE(warned(rate_study({made("wren", "rest", 1), made("wren", "rest", 1)}), "duplicated_records"));
  EXPECT_TRUE(warned(rate_study({made("wren", "rest", 1)}), "one_person"));
}

TEST(RateStudy, OfNothingHasNoVerdict) {
  ComparedRecord unread;
  unread.left_out = "cannot be read";
  for (const auto& records : {std::vector<ComparedRecord>{}, std::vector<ComparedRecord>{unread}}) {
    const RateStudy study = rate_study(records);
    EXPECT_EQ(study.flow.analysed, 0U);
    EXPECT_FALSE(study.overall.bias);
    for (const Verdict& verdict : study.verdicts) EXPECT_FALSE(verdict.met);
  }
}

std::optional<bool> met(const std::vector<Verdict>& verdicts, const std::string& rule) {
  for (const Verdict& verdict : verdicts)
    if (verdict.rule == rule) return verdict.met;
  ADD_FAILURE() << rule;
  return std::nullopt;
}

TEST(Verdicts, FollowTheRules) {
  const RateStudy good = rate_study({made("wren", "walking", 1)});
  EXPECT_EQ(met(good.verdicts, "EC13"), std::nullopt);  // right, but not from 30 to 200 beats/min
  EXPECT_EQ(met(good.verdicts, "CTA-2065"), true);
  const RateStudy poor = rate_study({made("wren", "walking", 1), made("wren", "running", 30)});
  EXPECT_EQ(met(poor.verdicts, "EC13"), false);
  EXPECT_EQ(met(poor.verdicts, "CTA-2065"), false);
  EXPECT_EQ(met(good.checklist, "walking"), true);
  EXPECT_EQ(met(good.checklist, "cycling"), false);
  EXPECT_EQ(met(good.checklist, "skin tone"), false);
  EXPECT_EQ(met(good.checklist, "criterion"), std::nullopt);
  ComparedRecord full = made("wren", "recovery", 1);
  full.facts.skin_tone = "III";
  full.facts.bmi = 21.5;
  full.facts.sex = "female";
  full.facts.criterion = "chest strap";
  const RateStudy told = rate_study({full});
  for (const char* rule : {"skin tone", "body mass index", "sex", "criterion", "recovery"})
    EXPECT_EQ(met(told.checklist, rule), true) << rule;
}

}  // namespace
}  // namespace pulsewright
