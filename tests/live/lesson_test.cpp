#include <gtest/gtest.h>

#include "pulsewright/error.hpp"
#include "pulsewright/lesson.hpp"
#include "pulsewright/live_screen.hpp"

namespace {

using namespace pulsewright;

LessonOptions options_of(const std::string& plan) {
  LessonOptions options;
  options.plan = plan_durations(plan);
  return options;
}

TEST(Lesson, GoesThroughThePlanAndEndsAfterTheSumOfItsParts) {
  LessonCourse course{options_of("2-2x3/1-2")};
  std::vector<std::string> names;
  std::vector<double> began;
  int counts = 0;
  for (int t = 0; t <= 2000 && !course.over(); ++t) {
    for (const LessonChange& change : course.advance(Seconds{static_cast<double>(t)}, t >= 20)) {
      if (change.kind == LessonChange::Kind::step) {
        names.push_back(step_name(change.step));
        began.push_back(t);
      }
      counts += change.kind == LessonChange::Kind::count_ends;
    }
  }
  EXPECT_EQ(names, (std::vector<std::string>{"find the pulse", "rest", "warm-up", "work 1 of 2", "pause", "work 2 of 2",
                                             "cool-down", "recovery", "the end"}));
  // Everybody was measured from 20 s on, for 10 s; then 60 + 120 + 180 + 60 + 180 + 120 + 120 s.
  EXPECT_EQ(began, (std::vector<double>{0, 30, 90, 210, 390, 450, 630, 750, 870}));
  EXPECT_EQ(counts, 4);  // rest, pause, cool-down, recovery
}

TEST(Lesson, DoesNotWaitForeverForASensorThatFindsNothing) {
  LessonCourse course{options_of("5-20-5")};
  (void)course.advance(Seconds{89}, false);
  EXPECT_EQ(course.step().kind, LessonStepKind::find_pulse);
  (void)course.advance(Seconds{90}, false);
  EXPECT_EQ(course.step().kind, LessonStepKind::rest);
  EXPECT_DOUBLE_EQ(course.left()->value(), 60.0);
}

TEST(Lesson, SkipsNothingWhenItLooksAtTheClockRarely) {
  LessonCourse course{options_of("1-1-1")};
  std::size_t steps = 0, counts = 0;
  for (const double t : {0.0, 95.0, 3000.0}) {
    for (const LessonChange& change : course.advance(Seconds{t}, false)) {
      steps += change.kind == LessonChange::Kind::step ? 1 : 0;
      counts += change.kind == LessonChange::Kind::count_begins ? 1 : 0;
    }
  }
  EXPECT_EQ(steps, course.steps().size());
  EXPECT_EQ(counts, 3U);
}

TEST(Lesson, RefusesACountThatDoesNotFit) {
  LessonOptions options = options_of("5-20-5");
  options.count = Seconds{60};
  EXPECT_THROW(LessonCourse{options}, Error);
  options.count = Seconds{17};
  EXPECT_THROW(LessonCourse{options}, Error);
}

LessonPerson with_beats(double interval, double until) {
  LessonPerson person;
  for (double t = 0.3; t < until; t += interval) {
    LiveEvent event;
    event.beat.time = Seconds{t};
    event.beat.confidence = 0.99;
    person.take(event);
  }
  return person;
}

TEST(Lesson, GivesTheRestingRateOfAMinuteWithItsInterval) {
  const RateWindow rest = with_beats(60.0 / 66.0, 130).rate_over({Seconds{50}, Seconds{110}}, ChannelKind::pulse);
  ASSERT_TRUE(rest.rate);
  EXPECT_NEAR(rest.rate->value(), 66.0, 1e-6);
  EXPECT_LT(rest.low->value(), 66.0);
  EXPECT_GT(rest.high->value(), 66.0);
  EXPECT_LT(rest.high->value() - rest.low->value(), 4.0);
  EXPECT_FALSE(with_beats(60.0 / 66.0, 30).rate_over({Seconds{50}, Seconds{110}}, ChannelKind::pulse).rate);
}

TEST(Lesson, SetsACountByHandBesideTheSensor) {
  const LessonCount count = with_beats(0.8, 60).score(18, {Seconds{20}, Seconds{35}}, "wren");
  EXPECT_DOUBLE_EQ(count.scored.by_count.value(), 72.0);  // 18 x 60 / 15
  EXPECT_NEAR(count.scored.recorded->value(), 75.0, 1e-6);
  EXPECT_NEAR(*count.scored.difference_bpm, -3.0, 1e-6);
  EXPECT_DOUBLE_EQ(count.beat_bpm, 4.0);
}

LiveScreen one_person(const LiveStanding& standing) {
  LiveScreen screen;
  LiveGlance glance;
  glance.code = "wren";
  glance.standing = &standing;
  LiveSecond second;
  second.at = Seconds{42};
  second.window.rate = BeatsPerMinute{158};
  second.window.low = BeatsPerMinute{155};
  second.window.high = BeatsPerMinute{161};
  second.advice = SignalAdvice::good;
  glance.second = second;
  glance.rate = Hertz{100};
  glance.seen = Seconds{42};
  for (int i = 0; i < 3000; ++i) glance.trace.push_back(static_cast<float>((i % 38) / 38.0));
  for (double t = 12; t < 40; t += 0.38) glance.beats.emplace_back(t);
  screen.people.push_back(glance);
  screen.elapsed = Seconds{42};
  screen.phase = "work 1 of 2, 3:10 left";
  screen.notes = {"a note", "another note \x1b[31m"};
  return screen;
}

TEST(LiveScreen, FitsAnySizeAndHoldsWhatMatters) {
  Person person;
  person.age_years = 15;
  person.resting = BeatsPerMinute{66};
  const LiveStanding standing{person};
  const LiveScreen screen = one_person(standing);
  for (const std::size_t columns : {0U, 1U, 40U, 80U, 200U}) {
    for (const std::size_t rows : {0U, 1U, 3U, 10U, 24U, 50U}) {
      const auto lines = live_screen(screen, columns, rows);
      EXPECT_LE(lines.size(), rows);
      std::string all;
      for (const std::string& line : lines) {
        EXPECT_LE(line.size(), columns);
        for (const char c : line) EXPECT_TRUE(c >= 0x20 && c < 0x7F);
        all += line + "\n";
      }
      if (columns < 40 || rows < 10) continue;
      for (const char* what : {"wren", "0:42", "beats/min", "work 1 of 2", "in target"})
        EXPECT_NE(all.find(what), std::string::npos) << what << "\n" << all;
      if (columns < 80 || rows < 24) continue;
      for (const char* what :
           {"95 % sure: 155 to 161", "66 % of reserve", "target 149 to 184", "signal: good", "^", "|"})
        EXPECT_NE(all.find(what), std::string::npos) << what << "\n" << all;
    }
  }
}

TEST(LiveScreen, ShowsEverybodyOfAClassOnASmallTerminalOrSaysHowManyMore) {
  const LiveStanding standing{Person{}};
  LiveScreen screen = one_person(standing);
  const LiveGlance one = screen.people[0];
  screen.people.clear();
  for (int i = 0; i < 40; ++i) {
    screen.people.push_back(one);
    screen.people.back().code = "bird" + std::to_string(100 + i);
  }
  const auto text_at = [&](std::size_t columns, std::size_t rows) {
    std::string all;
    for (const std::string& line : live_screen(screen, columns, rows)) all += line + "\n";
    return all;
  };
  for (int i = 0; i < 40; ++i) {
    EXPECT_NE(text_at(80, 24).find("bird" + std::to_string(100 + i)), std::string::npos) << i << text_at(80, 24);
    EXPECT_NE(text_at(200, 50).find("bird" + std::to_string(100 + i)), std::string::npos);
  }
  EXPECT_NE(text_at(40, 12).find("more: make the window larger"), std::string::npos);
}

TEST(LiveScreen, ShowsNoOldRateOfASensorThatHasGoneSilent) {
  const LiveStanding standing{Person{}};
  LiveScreen screen = one_person(standing);
  screen.people[0].silent = true;
  std::string all;
  for (const std::string& line : live_screen(screen, 80, 24)) all += line + "\n";
  EXPECT_EQ(all.find("155 to 161"), std::string::npos);
  EXPECT_NE(all.find("nothing comes from the sensor"), std::string::npos);
}

}  // namespace
