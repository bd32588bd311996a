#include <gtest/gtest.h>

#include <cmath>

#include "pulsewright/effort_report.hpp"

namespace pulsewright {
namespace {

bool stands_in(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

std::size_t times_in(const std::string& text, const std::string& part) {
  std::size_t times = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++times;
  return times;
}

/// Five minutes about a rate, every second window; `lost` of them are missing in the middle.
RateSeries rates_about(double rate, int lost = 0) {
  RateSeries rates;
  rates.duration = Seconds{300};
  for (int i = 0; i * 2 + 8 <= 300; ++i) {
    RateWindow window;
    window.window = {Seconds{2.0 * i}, Seconds{2.0 * i + 8}};
    if (i < 60 || i >= 60 + lost) {
      window.rate = BeatsPerMinute{rate + 5 * std::sin(i / 9.0)};
      window.low = *window.rate - BeatsPerMinute{1};
      window.high = *window.rate + BeatsPerMinute{1};
      window.confidence = 0.99;
    }
    rates.windows.push_back(window);
  }
  return rates;
}

ClassMember member_of(const std::string& code, double rate, std::optional<double> laps, int lost = 0) {
  ClassMember member;
  member.entry.code = code;
  member.entry.performance = laps;
  member.rates = rates_about(rate, lost);
  Person person;
  person.code = code;
  person.age_years = 15;
  person.resting = BeatsPerMinute{66};
  member.session = study_session(member.rates, person);
  return member;
}

ClassMember failed_member(const std::string& code, const std::string& why) {
  ClassMember member;
  member.entry.code = code;
  member.failure = why;
  return member;
}

ClassComparison example_class() {
  std::vector<ClassMember> members{member_of("wren", 140, 9), member_of("heron", 170, 5),
                                   member_of("plover", 150, 7, 30),
                                   failed_member("dunlin", "dunlin.csv: no such file")};
  return compare_class(std::move(members), {"laps", true});
}

TEST(ClassReport, GivesEverybodyALineACourseAndASlip) {
  for (const Language language : {Language::english, Language::german, Language::spanish}) {
    const std::string page = class_report(example_class(), language);
    EXPECT_EQ(times_in(page, "<article class=\"slip\">"), 4U);
    EXPECT_EQ(times_in(page, "<figure id=\"course-"), 4U);
    for (const char* code : {"wren", "heron", "plover", "dunlin"})
      EXPECT_TRUE(stands_in(page, std::string("<th scope=\"row\">") + code + "</th>")) << code;
  }
}

TEST(ClassReport, SpeaksOfOnePersonInTheSingular) {
  std::vector<ClassMember> alone;
  alone.push_back(member_of("wren", 140, 9));
  const ClassComparison one = compare_class(std::move(alone), {"laps", true});
  EXPECT_TRUE(stands_in(class_report(one), "1 person, from"));
  EXPECT_TRUE(stands_in(class_report(one, Language::german), "1 Person, aus"));
  EXPECT_TRUE(stands_in(class_report(example_class()), "4 people, from"));
}

TEST(ClassReport, SaysWhoHasNoResultAndDrawsItAsMissing) {
  const std::string page = class_report(example_class());
  EXPECT_TRUE(stands_in(page, "<strong>dunlin</strong>: <span lang=\"en\">dunlin.csv: no such file</span>"));
  EXPECT_TRUE(stands_in(page, "dunlin: no heart rate was measured."));
  // One over all of dunlin's course, one over plover's gap; each in the course and on the slip. Ends of sessions are covered by windows.
  EXPECT_GE(times_in(page, "<rect class=\"missing\""), 4U);
  EXPECT_FALSE(stands_in(page, "members.3.effort."));
}

TEST(ClassReport, NamesInEachLanguageWhatIsAbsentAfterAStop) {
  std::vector<ClassMember> alone;
  alone.push_back(member_of("wren", 140, 9));
  alone.front().session->recovery.emplace();
  for (const char* key : {"at_stop_bpm", "after_one_minute_bpm", "after_two_minutes_bpm", "first_minute_fall_bpm"})
    alone.front().session->recovery->reasons.push_back({key, "the session ends 53 s after the stop"});
  const ClassComparison one = compare_class(std::move(alone), {"laps", true});
  EXPECT_TRUE(stands_in(class_report(one), "rate one minute after the stop"));
  EXPECT_TRUE(stands_in(class_report(one, Language::german), "Frequenz eine Minute nach dem Anhalten"));
  for (const Language language : {Language::english, Language::german, Language::spanish}) {
    const std::string page = class_report(one, language);
    for (const char* key : {">at_stop", "after_one_minute_bpm", "after_two_minutes_bpm"})
      EXPECT_FALSE(stands_in(page, key)) << key;
  }
}

TEST(ClassReport, LeavesOutPerformanceWhereTheSheetHasNone) {
  std::vector<ClassMember> members{member_of("wren", 140, std::nullopt), member_of("heron", 170, std::nullopt)};
  const std::string page = class_report(compare_class(std::move(members), {}));
  EXPECT_FALSE(stands_in(page, "id=\"performance\""));
  EXPECT_TRUE(stands_in(class_report(example_class()), "id=\"figure-performance\""));
}

TEST(ClassReport, CodesNotesAndFailuresAreText) {
  ClassMember hostile = member_of("<script>alert(1)</script>", 150, 3);
  hostile.entry.activity = "</p><svg onload=\"alert(2)\">";
  std::vector<ClassMember> members{std::move(hostile), failed_member("\"><img src=x>", "<b>&'\"")};
  const std::string page = class_report(compare_class(std::move(members), {"laps", true}));
  EXPECT_EQ(times_in(page, "<script"), 1U);
  EXPECT_FALSE(stands_in(page, "<img"));
  EXPECT_FALSE(stands_in(page, "<svg onload"));
  EXPECT_TRUE(stands_in(page, "&lt;script&gt;alert(1)&lt;/script&gt;"));
}

TEST(ClassReport, OfTwoHoursNoExtremeIsLostFromTheDrawing) {
  ClassMember member = member_of("wren", 140, std::nullopt);
  RateSeries& rates = member.rates;
  rates.duration = Seconds{7200};
  rates.windows.clear();
  for (int i = 0; i * 2 + 8 <= 7200; ++i)
    rates.windows.push_back({{Seconds{2.0 * i}, Seconds{2.0 * i + 8}},
                             BeatsPerMinute{i == 1777 ? 191.25 : 120},
                             BeatsPerMinute{119},
                             BeatsPerMinute{192},
                             0.99,
                             RateMethod::beats});
  member.session = study_session(rates, member.session->effort.person);
  std::vector<ClassMember> members{std::move(member)};
  const std::string page = class_report(compare_class(std::move(members), {}));
  EXPECT_TRUE(stands_in(page, ",120.00,191.25%0A"));
}

TEST(ClassReport, StandsForAClassOfNobody) {
  const std::string page = class_report(compare_class({}, {}));
  EXPECT_TRUE(stands_in(page, "of 0 people"));
  EXPECT_FALSE(stands_in(page, "id=\"people\""));
}

}  // namespace
}  // namespace pulsewright
