/// A class of 24 whose truth is known, judged fairly: whatever part of the lesson a recorder caught, places follow the
/// truth, and of whom nothing can be known nothing is said.
#include <gtest/gtest.h>

#include <algorithm>
#include <random>

#include "made_lesson.hpp"

namespace pulsewright {
namespace {

constexpr double ten_oclock = 36000;
constexpr auto nothing_lost = [](double) { return false; };

const ClassMember& of(const ClassComparison& comparison, const std::string& code) {
  for (const ClassMember& m : comparison.members)
    if (m.entry.code == code) return m;
  throw std::runtime_error(code);
}

/// Nobody is placed ahead of somebody who truly worked harder over what was compared.
void expect_places_follow_truth(const ClassComparison& comparison, const std::vector<MadePupil>& pupils, double from,
                                double to, double allowed = 1.0) {
  for (const MadePupil& a : pupils)
    for (const MadePupil& b : pupils) {
      const ClassMember &x = of(comparison, a.code), &y = of(comparison, b.code);
      if (!x.standing || !y.standing || x.standing->worst >= y.standing->best) continue;
      EXPECT_GT(true_effort(a, from, to) + allowed, true_effort(b, from, to)) << a.code << " before " << b.code;
    }
}

TEST(FairClass, ComparesEverybodyOverOneStretchOfTheLessonByTheClock) {
  const std::vector<MadePupil> pupils = made_class();
  std::vector<ClassMember> members;
  for (const MadePupil& pupil : pupils)
    members.push_back(made_member(pupil, made_rates(pupil, 0, lesson_length, nothing_lost), ten_oclock));
  const ClassComparison comparison = compare_class(std::move(members), {});
  EXPECT_EQ(comparison.common.basis, CommonBasis::clock);
  EXPECT_NEAR(comparison.common.lesson.start.value(), ten_oclock, 1e-6);
  EXPECT_NEAR(comparison.common.lesson.length().value(), lesson_length, 1e-6);
  expect_places_follow_truth(comparison, pupils, 0, lesson_length);
  for (const MadePupil& pupil : pupils)
    EXPECT_NEAR(of(comparison, pupil.code).compared->mean_reserve_percent->value,
                true_effort(pupil, 0, lesson_length), 1.0) << pupil.code;
}

TEST(FairClass, TheSameRecordingWholeAndCutHasTheSameEffort) {
  // Cut to the work, the mean of the whole recording rises from about 40 to 60 %; what is compared stays.
  std::vector<MadePupil> pupils = made_class();
  pupils.resize(6);
  MadePupil twin = pupils[0];
  twin.code = "twin";
  std::vector<ClassMember> members;
  for (const MadePupil& pupil : pupils)
    members.push_back(made_member(pupil, made_rates(pupil, 0, lesson_length, nothing_lost), ten_oclock));
  // The twin's recorder ran from late in the warm-up to the end of the cool-down.
  members.push_back(made_member(twin, made_rates(twin, 300, 1260, nothing_lost), ten_oclock + 300));
  const double whole = members[0].session->mean_reserve_percent->value;
  const double cut = members.back().session->mean_reserve_percent->value;
  EXPECT_GT(cut - whole, 8.0);
  const ClassComparison comparison = compare_class(std::move(members), {});
  const ClassMember &a = of(comparison, "p01"), &b = of(comparison, "twin");
  EXPECT_EQ(b.not_placed, NotPlaced::little_measured);  // 960 of the 1500 s that nearly all others have
  EXPECT_NEAR(comparison.common.lesson.length().value(), lesson_length, 1e-6);
  EXPECT_TRUE(a.standing);
  EXPECT_FALSE(b.standing);
}

TEST(FairClass, PlacesFollowTheTruthForAnyCutOfTheRecordings) {
  const std::vector<MadePupil> pupils = made_class();
  std::mt19937_64 random(5);
  const auto between = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(random() >> 11) / 9007199254740992.0;
  };
  int placed = 0;
  for (int trial = 0; trial < 20; ++trial)
    for (const bool clocks : {true, false}) {
      std::vector<ClassMember> members;
      for (const MadePupil& pupil : pupils) {
        const double from = 2 * std::floor(between(0, 150)), to = 2 * std::floor(between(500, 750));
        // A slip of the sensor in every fourth recording.
        const double slip = random() % 4 == 0 ? between(from, to) : -1000;
        const auto lost = [=](double at) { return slip <= at && at < slip + 60; };
        members.push_back(made_member(pupil, made_rates(pupil, from, to, lost),
                                      clocks ? std::optional(ten_oclock + from) : std::nullopt));
      }
      const ClassComparison comparison = compare_class(std::move(members), {});
      EXPECT_EQ(comparison.common.basis, clocks ? CommonBasis::clock : CommonBasis::course);
      double origin = clocks ? ten_oclock : 0;
      if (!clocks) {  // counted from the recording that began first: its clock is the truth of the others'
        double first = 1e9;
        for (const ClassMember& member : comparison.members)
          if (member.lesson_s) first = std::min(first, member.lesson_s->value());
        EXPECT_NEAR(first, 0, 1e-6);
        continue;
      }
      const Span common = comparison.common.lesson;
      expect_places_follow_truth(comparison, pupils, common.start.value() - origin, common.end.value() - origin, 0.5);
      for (const ClassMember& member : comparison.members) placed += member.standing ? 1 : 0;
    }
  EXPECT_GT(placed, 20 * 24 * 0.7);
}

TEST(FairClass, RecordingsWithoutAClockAreLaidOverEachOtherByTheirCourse) {
  const std::vector<MadePupil> pupils = made_class();
  std::vector<ClassMember> members;
  std::vector<double> began;
  for (std::size_t k = 0; k < pupils.size(); ++k) {
    const double from = static_cast<double>(6 * (k % 17));
    began.push_back(from);
    members.push_back(made_member(pupils[k], made_rates(pupils[k], from, 1300 + 2.0 * static_cast<double>(k), nothing_lost), {}));
  }
  const ClassComparison comparison = compare_class(std::move(members), {});
  ASSERT_EQ(comparison.common.basis, CommonBasis::course);
  for (std::size_t k = 0; k < pupils.size(); ++k) {
    const ClassMember& member = of(comparison, pupils[k].code);
    ASSERT_TRUE(member.lesson_s) << pupils[k].code;
    // Time constants differ from pupil to pupil, and so does where a course seems to lie.
    EXPECT_NEAR(member.lesson_s->value(), began[k], 20) << pupils[k].code;
  }
  const Span common = comparison.common.lesson;
  expect_places_follow_truth(comparison, pupils, common.start.value(), common.end.value(), 2.0);
}

TEST(FairClass, NobodyWhoWasHardlyMeasuredIsJudged) {
  std::vector<MadePupil> pupils = made_class();
  const PerformanceMeasure laps{"laps", true};
  std::vector<ClassMember> members;
  for (std::size_t k = 0; k < pupils.size(); ++k) {
    const auto lost = [&](double at) { return k == 3 && at > 0.34 * lesson_length; };
    const double to = k == 4 ? 40 : lesson_length;
    members.push_back(made_member(pupils[k], made_rates(pupils[k], 0, to, lost), ten_oclock));
    members.back().entry.performance = 10.0 - 0.2 * static_cast<double>(k);
  }
  const ClassComparison comparison = compare_class(std::move(members), laps);
  for (const char* code : {"p04", "p05"}) {
    const ClassMember& member = of(comparison, code);
    EXPECT_EQ(member.not_placed, NotPlaced::little_measured) << code;
    EXPECT_EQ(member.effort_for_place, EffortForPlace::unclear) << code;
    EXPECT_FALSE(member.standing) << code;
  }
  EXPECT_EQ(of(comparison, "p06").not_placed, NotPlaced::placed);
}

TEST(FairClass, WithoutAUsableRestingRateThereIsOneTargetAndNoPlace) {
  std::vector<MadePupil> pupils = made_class();
  std::vector<ClassMember> members;
  for (std::size_t k = 0; k < pupils.size(); ++k) {
    Person person = made_person(pupils[k]);
    person.measured_maximum.reset();
    if (k == 0) person.resting.reset();
    if (k == 1) person.resting = 150_bpm, person.age_years = 13;
    if (k == 2) person.resting = 27_bpm;
    if (k == 3) person.resting = 100_bpm;  // may be one, but the recording starts at 81
    if (k == 4) person.resting.reset(), person.age_years.reset();
    members.push_back(made_member(pupils[k], made_rates(pupils[k], 0, lesson_length, nothing_lost), ten_oclock, person));
  }
  const ClassComparison comparison = compare_class(std::move(members), {});
  const auto why = [&](const char* code) { return of(comparison, code).not_placed; };
  EXPECT_EQ(why("p01"), NotPlaced::no_resting);
  EXPECT_EQ(why("p02"), NotPlaced::implausible_resting);
  EXPECT_EQ(why("p03"), NotPlaced::implausible_resting);
  EXPECT_EQ(why("p04"), NotPlaced::below_resting);
  EXPECT_EQ(why("p05"), NotPlaced::no_maximum);
  EXPECT_EQ(why("p06"), NotPlaced::placed);
  // 60 to 85 % of 205 and of 207, before the lesson and after it.
  EXPECT_NEAR(of(comparison, "p01").session->effort.target->low.value(), 123.0, 1e-9);
  EXPECT_NEAR(of(comparison, "p02").session->effort.target->low.value(), 124.2, 1e-9);
  EXPECT_FALSE(of(comparison, "p01").session->effort.target->from_reserve);
  const auto& prompts = of(comparison, "p04").session->prompts;
  EXPECT_TRUE(std::any_of(prompts.begin(), prompts.end(), [](const Warning& w) { return w.code == "below_stated_resting"; }));
}

TEST(FairClass, BelowInAndAboveTheTargetAddUpWithWhatWasNotMeasured) {
  MadePupil keen;
  keen.code = "wren";
  keen.zeal = 1.1;
  const ClassMember member =
      made_member(keen, made_rates(keen, 0, lesson_length, [](double at) { return at > 500 && at < 560; }), ten_oclock);
  const ClassComparison comparison = compare_class({member}, {});
  const StretchEffort& compared = *comparison.members[0].compared;
  EXPECT_EQ(*compared.below_target_us + *compared.in_target_us + *compared.above_target_us + compared.unmeasured_us,
            compared.length_us);
  EXPECT_GT(*compared.above_target_us, 100'000'000);
  // What was not measured may have been in the target.
  EXPECT_GE(compared.in_target_s->high,
            static_cast<double>(*compared.in_target_us + compared.unmeasured_us) / 1e6 - 1e-6);
}

TEST(FairClass, EffortOfTheWorkStandsBesideThatOfTheWhole) {
  MadePupil pupil;
  pupil.code = "wren";
  const SessionEffort session = study_session(made_rates(pupil, 0, lesson_length, nothing_lost), made_person(pupil));
  ASSERT_TRUE(session.work);
  EXPECT_NEAR(static_cast<double>(session.work->length_us) / 1e6, 480, 60);  // bouts of 300 and 180 s
  EXPECT_GT(session.work->mean_reserve_percent->value, 60);
  EXPECT_LT(session.mean_reserve_percent->value, 50);
}

Roster roster_of(const std::vector<MadePupil>& pupils) {
  Roster roster;
  for (const MadePupil& pupil : pupils) roster.people.push_back(made_person(pupil));
  return roster;
}

bool told(const std::vector<ClassFinding>& findings, ClassFault fault, const std::string& code,
          const std::string& other = {}) {
  return std::any_of(findings.begin(), findings.end(), [&](const ClassFinding& finding) {
    return finding.fault == fault && finding.code == code &&
           (other.empty() || std::find(finding.others.begin(), finding.others.end(), other) != finding.others.end());
  });
}

TEST(FairClass, AbsentTwiceSharedSwappedAndWrongRateAreEachSaid) {
  std::vector<MadePupil> pupils = made_class();
  const Roster roster = roster_of(pupils);
  std::vector<ClassMember> members;
  for (std::size_t k = 0; k + 1 < pupils.size(); ++k)  // the last is absent
    members.push_back(made_member(pupils[k], made_rates(pupils[k], 0, lesson_length, nothing_lost), ten_oclock));
  members[1].entry.file = members[0].entry.file;  // one file under two codes
  members[3].entry.code = members[2].entry.code;  // one code twice, so p04 is missing as well
  // p05 (resting 61) and p08 (resting 82) swapped.
  ASSERT_LT(pupils[4].resting + 15, pupils[7].resting);
  const auto swapped = [&](std::size_t wearer, std::size_t named) {
    members[named] = made_member(pupils[named], made_rates(pupils[wearer], 0, lesson_length, nothing_lost), ten_oclock);
  };
  swapped(4, 7);
  swapped(7, 4);
  // p11 at 32 samples a second in place of 64: twice as long, and half the rate.
  RateSeries slow = made_rates(pupils[10], 0, lesson_length, nothing_lost);
  slow.duration = Seconds{2 * lesson_length};
  slow.options.step = Seconds{4};
  slow.options.window = Seconds{16};
  for (RateWindow& window : slow.windows) {
    window.window = {2.0 * window.window.start, 2.0 * window.window.end};
    window.rate = window.low = window.high = 0.5 * *window.rate;
  }
  members[10] = made_member(pupils[10], slow, std::nullopt);
  members[10].rate_was_stated = true;

  SessionSheet sheet;
  for (const ClassMember& member : members) sheet.entries.push_back(member.entry);
  const std::vector<ClassFinding> found = check_class(roster, sheet, members);
  EXPECT_TRUE(told(found, ClassFault::absent, "p24"));
  EXPECT_TRUE(told(found, ClassFault::absent, "p04"));
  EXPECT_TRUE(told(found, ClassFault::recording_twice, "p02", "p01"));
  EXPECT_TRUE(told(found, ClassFault::code_twice, "p03"));
  EXPECT_TRUE(told(found, ClassFault::looks_swapped, "p08", "p05"));
  EXPECT_TRUE(told(found, ClassFault::rate_hz_doubtful, "p11"));
  EXPECT_EQ(found.size(), 6u);
  const ClassComparison comparison = compare_class(std::move(members), {});
  EXPECT_EQ(of(comparison, "p02").not_placed, NotPlaced::shared_recording);
  EXPECT_EQ(of(comparison, "p03").not_placed, NotPlaced::code_twice);
  EXPECT_EQ(of(comparison, "p11").not_placed, NotPlaced::rate_hz_doubtful);
  EXPECT_EQ(of(comparison, "p08").not_placed, NotPlaced::below_resting);
}

TEST(FairClass, ARightClassIsNotDoubted) {
  const std::vector<MadePupil> pupils = made_class();
  std::vector<ClassMember> members;
  for (const MadePupil& pupil : pupils)
    members.push_back(made_member(pupil, made_rates(pupil, 0, lesson_length, nothing_lost), ten_oclock));
  SessionSheet sheet;
  for (const ClassMember& member : members) sheet.entries.push_back(member.entry);
  for (const ClassFinding& finding : check_class(roster_of(pupils), sheet, members))
    ADD_FAILURE() << finding.code << " " << to_string(finding.fault);
  for (const ClassMember& member : compare_class(std::move(members), {}).members)
    EXPECT_EQ(member.not_placed, NotPlaced::placed) << member.entry.code;
}

}  // namespace
}  // namespace pulsewright
