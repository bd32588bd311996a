/// Phases, kinetics, recovery, intervals and prompts of sessions whose course is known.
#include "pulsewright/session.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "rate_series.hpp"

namespace pulsewright {
namespace {

struct Step {
  double until, demand;
};

/// First-order kinetics between steps of demand: quicker up than down.
struct Course {
  std::vector<Step> steps;
  double rise = 30, fall = 50, start = 66;

  double at(double t) const {
    double rate = start, from = 0;
    for (const Step& step : steps) {
      const double tau = step.demand > rate ? rise : fall;
      const double length = std::min(t, step.until) - from;
      rate = step.demand + (rate - step.demand) * std::exp(-length / tau);
      from = step.until;
      if (t <= step.until) break;
    }
    return rate;
  }
};

/// Rest, warm-up, two bouts with a pause, cool-down, rest: 66 to 205 beats/min, so that 139 are the reserve.
const Course lesson{{{90, 66}, {390, 115}, {630, 170}, {720, 95}, {960, 175}, {1260, 105}, {1420, 66}}};

RateSeries lesson_rates() {
  return series(1420, 8, 2, [](double t) {  // the mean over the window, as a measured one would be
    double sum = 0;
    for (int k = 0; k < 16; ++k) sum += lesson.at(t - 4 + 0.25 + 0.5 * k);
    return sum / 16;
  });
}

bool prompted(const SessionEffort& session, const std::string& code) {
  return std::any_of(session.prompts.begin(), session.prompts.end(), [&](const Warning& w) { return w.code == code; });
}

std::string message_of(const SessionEffort& session, const std::string& code) {
  for (const Warning& prompt : session.prompts)
    if (prompt.code == code) return prompt.message;
  return {};
}

TEST(Phases, OfALessonAreFoundWithinAFewSecondsAndNamed) {
  const SessionEffort session = study_session(lesson_rates(), wren());
  using enum PhaseKind;
  const PhaseKind kinds[] = {rest, warm_up, work, pause, work, cool_down, rest};
  ASSERT_EQ(session.phases.size(), std::size(kinds));
  for (std::size_t k = 0; k < std::size(kinds); ++k) {
    EXPECT_EQ(session.phases[k].kind, kinds[k]) << k;
    EXPECT_NEAR(session.phases[k].span().end.value(), lesson.steps[k].until, 6.0) << k;
    EXPECT_NEAR(session.phases[k].settling_rate->value(), lesson.steps[k].demand, 4.0) << k;
  }
}

TEST(Phases, TileTheSessionExactlyWhateverIsMissing) {
  const RateSeries gappy = series(
      1420.7, 8, 2, [](double t) { return (t > 200 && t < 260) || std::fmod(t, 97) < 20 ? -1.0 : lesson.at(t); });
  const SessionEffort session = study_session(gappy, wren());
  std::int64_t at = 0, unmeasured = 0;
  for (const Phase& phase : session.phases) {
    EXPECT_EQ(phase.start_us, at);
    EXPECT_GT(phase.length_us, 0);
    at += phase.length_us;
    unmeasured += phase.unmeasured_us;
  }
  EXPECT_EQ(at, session.effort.duration_us);
  EXPECT_EQ(unmeasured, session.effort.unmeasured_us);
}

TEST(Phases, AMarkedSessionKeepsItsMarksAndTellsOnlyWhatTheyLeaveOpen) {
  SessionOptions options;
  options.marks = {{0_s, PhaseKind::rest, {}},
                   {100_s, std::nullopt, "stairs"},
                   {400_s, PhaseKind::work, {}, 15},
                   {1000_s, std::nullopt, "bench"}};
  const SessionEffort session = study_session(lesson_rates(), wren(), options);
  ASSERT_EQ(session.phases.size(), 4u);
  EXPECT_EQ(session.phases[1].span().start, 100_s);
  EXPECT_EQ(session.phases[1].name, "stairs");
  EXPECT_EQ(session.phases[1].kind, PhaseKind::warm_up);
  EXPECT_EQ(session.phases[2].kind, PhaseKind::work);
  EXPECT_EQ(session.phases[2].exertion, 15);
  EXPECT_TRUE(session.phases[3].marked);
}

TEST(Phases, ALevelRateIsOnePhaseOfRestAndAnUnmeasuredSessionOneUnmeasuredPhase) {
  const SessionEffort level = study_session(steady(300, 72), wren());
  ASSERT_EQ(level.phases.size(), 1u);
  EXPECT_EQ(level.phases[0].kind, PhaseKind::rest);
  const SessionEffort nothing = study_session(series(300, 8, 2, [](double) { return -1.0; }), wren());
  ASSERT_EQ(nothing.phases.size(), 1u);
  EXPECT_EQ(nothing.phases[0].unmeasured_us, 300'000'000);
  EXPECT_FALSE(nothing.phases[0].mean_rate);
  EXPECT_TRUE(study_session(steady(0, 72), wren()).phases.empty());
}

TEST(Kinetics, TimeConstantsOfAKnownCourseComeBackWithinOnePerCent) {
  const SessionEffort session = study_session(lesson_rates(), wren());
  int given = 0;
  for (const PhaseKinetics& kinetics : session.kinetics) {
    if (!kinetics.fit) continue;
    ++given;
    const double truth = kinetics.rising ? lesson.rise : lesson.fall;
    EXPECT_NEAR(kinetics.fit->tau.value(), truth, 0.06 * truth) << kinetics.phase;
    EXPECT_GT(kinetics.fit->explained, 0.99);
  }
  EXPECT_GE(given, 4);
}

TEST(Kinetics, AFitThatDoesNotDeserveItIsRefusedWithItsReason) {
  // Noise of 15 beats/min buries a rise of 20.
  const RateSeries noisy = series(
      400, 8, 2, [](double t) { return (t < 150 ? 80.0 : 100.0) + 15.0 * std::sin(0.9 * t) * std::sin(0.13 * t); });
  SessionOptions options;
  options.marks = {{0_s, PhaseKind::rest, {}}, {150_s, PhaseKind::work, {}}};
  for (const PhaseKinetics& kinetics : study_session(noisy, wren(), options).kinetics) {
    EXPECT_FALSE(kinetics.fit);
    EXPECT_FALSE(kinetics.reason.empty());
  }
  // A bout that ends long before the rate has settled: two time constants are not in view.
  const Course slow{{{100, 66}, {170, 190}}, 120, 50, 66};
  options.marks[1].time = 100_s;
  const SessionEffort cut_short =
      study_session(series(170, 8, 2, [&](double t) { return slow.at(t); }), wren(), options);
  ASSERT_EQ(cut_short.kinetics.size(), 1u);
  EXPECT_FALSE(cut_short.kinetics[0].fit);
}

TEST(Recovery, FallsOfAnAbruptStopAreThoseOfTheCourse) {
  const Course course{{{120, 66}, {480, 175}, {720, 66}}};
  const SessionEffort session = study_session(series(720, 8, 2, [&](double t) { return course.at(t); }), wren());
  ASSERT_TRUE(session.recovery);
  EXPECT_TRUE(session.recovery->stood_still);
  EXPECT_TRUE(session.easing.abrupt_stop);
  EXPECT_NEAR(session.recovery->stop.value(), 480, 3.0);
  EXPECT_NEAR(session.recovery->first_minute_fall->value(), course.at(480) - course.at(540), 1.0);
  EXPECT_NEAR(session.recovery->second_minute_fall->value(), course.at(540) - course.at(600), 1.0);
}

TEST(Recovery, HasNoValueWhereTheSessionEndsOrNothingIsMeasured) {
  const Course course{{{120, 66}, {480, 175}, {720, 66}}};
  const SessionEffort brief = study_session(series(560, 8, 2, [&](double t) { return course.at(t); }), wren());
  ASSERT_TRUE(brief.recovery);
  EXPECT_TRUE(brief.recovery->first_minute_fall);
  EXPECT_FALSE(brief.recovery->second_minute_fall);
  EXPECT_FALSE(brief.recovery->reasons.empty());
  const SessionEffort gap =
      study_session(series(720, 8, 2, [&](double t) { return t > 515 && t < 570 ? -1.0 : course.at(t); }), wren());
  ASSERT_TRUE(gap.recovery);
  EXPECT_FALSE(gap.recovery->first_minute_fall);
  EXPECT_FALSE(
      study_session(series(400, 8, 2, [&](double t) { return course.at(t); }), wren()).recovery);  // ends in work
}

TEST(Drift, OfALongBoutIsItsSlopeAndLevelWorkHasNone) {
  const auto bout = [](double slope) {
    return series(1500, 8, 2, [=](double t) {
      return t < 120 ? 66.0
                     : 66.0 + 90.0 * (1 - std::exp(-(t - 120) / 30.0)) + slope * (t - 120) / 600.0 +
                           0.8 * std::sin(0.7 * t);
    });
  };
  const SessionEffort rising = study_session(bout(6.0), wren());
  ASSERT_TRUE(rising.drift);
  EXPECT_NEAR(rising.drift->bpm_per_10_min, 6.0, 0.5);
  EXPECT_GT(rising.drift->low, 0.0);
  const SessionEffort level = study_session(bout(0.0), wren());
  ASSERT_TRUE(level.drift);
  EXPECT_LE(level.drift->low, 0.0);
  EXPECT_GE(level.drift->high, 0.0);
  EXPECT_FALSE(study_session(lesson_rates(), wren()).drift);  // no bout of six minutes
}

TEST(Easing, IsSetBesideCommonPracticeOfFiveToTenMinutes) {
  const SessionEffort session = study_session(lesson_rates(), wren());
  EXPECT_EQ(session.easing.warm_up_length, UsualLength::usual);
  EXPECT_NEAR(session.easing.warm_up.value(), 300, 10);
  EXPECT_TRUE(session.easing.about_equal);
  EXPECT_FALSE(session.easing.abrupt_stop);
}

TEST(Ranges, FollowTheSpreadOfTheMaximumAndCloseWhenItWasMeasured) {
  // Steady 149.4: 60 % of reserve with 205. The middle 95 % of maxima is 205 +- 1.96 x 12.8.
  const SessionEffort session = study_session(steady(600, 149.4), wren());
  const double half = 1.96 * std::sqrt(164.0);
  EXPECT_NEAR(session.mean_reserve_percent->value, 60.0, 1e-6);
  EXPECT_NEAR(session.mean_reserve_percent->low, 100 * 83.4 / (139 + half), 0.6);
  EXPECT_NEAR(session.mean_reserve_percent->high, 100 * 83.4 / (139 - half), 0.6);
  EXPECT_DOUBLE_EQ(session.in_target_s->value, 600.0);
  EXPECT_DOUBLE_EQ(session.in_target_s->low, 0.0);  // with a higher maximum the whole session lies below
  Person person = wren();
  person.measured_maximum = 205_bpm;
  const SessionEffort measured = study_session(steady(600, 149.4), person);
  EXPECT_DOUBLE_EQ(measured.mean_reserve_percent->low, measured.mean_reserve_percent->high);
  EXPECT_DOUBLE_EQ(measured.in_target_s->low, 600.0);
}

TEST(Stretches, LongestRunIsBrokenByUnmeasuredTimeAndThePeakIsAMean) {
  const RateSeries rates = series(600, 2, 2, [](double t) {
    if (t > 300 && t < 310) return -1.0;
    return t > 100 && t < 500 ? 150.0 : 80.0;
  });
  const SessionEffort session = study_session(rates, wren());
  EXPECT_EQ(session.longest_moderate->length(), 200_s);
  EXPECT_EQ(session.longest_moderate->start, 100_s);
  EXPECT_DOUBLE_EQ(session.peak->rate.value(), 150.0);
  EXPECT_EQ(session.peak->where.length(), 30_s);
  EXPECT_DOUBLE_EQ(session.moderate_or_harder_s->value, 390.0);
  EXPECT_DOUBLE_EQ(*session.moderate_or_harder_percent, 65.0);
}

TEST(Scheme, TimesSumWithTheUnmeasuredToTheDuration) {
  SessionOptions options;
  options.scheme = IntensityScheme{"ours", true, {{"easy", 0.2}, {"steady", 0.5}, {"hard", 0.75}}};
  const SessionEffort session = study_session(lesson_rates(), wren(), options);
  ASSERT_EQ(session.scheme_us.size(), 4u);
  EXPECT_EQ(std::accumulate(session.scheme_us.begin(), session.scheme_us.end(), session.effort.unmeasured_us),
            session.effort.duration_us);
  EXPECT_GT(session.scheme_us[2], 100'000'000);
}

TEST(Exertion, FarFromTheMeasuredIsAPromptAndNearIsNone) {
  SessionOptions options;
  options.exertion = 15;  // vigorous, as the bouts are
  EXPECT_FALSE(prompted(study_session(lesson_rates(), wren(), options), "exertion_far_apart"));
  options.exertion = 8;
  const SessionEffort session = study_session(lesson_rates(), wren(), options);
  EXPECT_TRUE(prompted(session, "exertion_far_apart"));
  EXPECT_EQ(session.exertion.front().said, Intensity::very_light);
  options.exertion = 3;
  EXPECT_THROW((void)study_session(lesson_rates(), wren(), options), Error);
}

TEST(Prompts, AboveTheAgeMaximumTheSignalDecidesBetweenSensorAndHeart) {
  const auto above = [](double confidence, double jump) {
    RateSeries rates = series(600, 8, 2, [=](double t) {
      if (t < 300) return 150.0 + t / 10;
      return t < 400 ? 180 + std::min(30.0, (t - 300) * jump) : 210 - 0.5 * (t - 400);
    });
    for (RateWindow& window : rates.windows)
      if (window.rate->value() > 205) window.confidence = confidence;
    return message_of(study_session(rates, wren()), "above_maximum");
  };
  EXPECT_NE(above(0.97, 0.5).find("looks real"), std::string::npos) << above(0.97, 0.5);
  EXPECT_NE(above(0.5, 0.5).find("sensor fault"), std::string::npos);
  EXPECT_NE(above(0.97, 30).find("sensor fault"), std::string::npos);
  EXPECT_NE(above(0.8, 0.5).find("does not decide"), std::string::npos);
}

TEST(Prompts, OwnCeilingNoRiseAndLateRecoveryAreNoted) {
  Person person = wren();
  person.own_ceiling = 160_bpm;
  EXPECT_TRUE(prompted(study_session(lesson_rates(), person), "long_above_own_ceiling"));
  SessionOptions marked;
  marked.marks = {{0_s, PhaseKind::rest, {}}, {60_s, PhaseKind::work, {}}};
  EXPECT_TRUE(prompted(study_session(steady(300, 75), wren(), marked), "no_rise_with_work"));
  EXPECT_FALSE(prompted(study_session(steady(300, 75), wren()), "no_rise_with_work"));
  const Course late{{{120, 66}, {480, 200}, {800, 66}}, 30, 260, 66};
  marked.marks = {{0_s, PhaseKind::rest, {}}, {120_s, PhaseKind::work, {}}, {480_s, PhaseKind::rest, {}}};
  const SessionEffort session = study_session(series(800, 8, 2, [&](double t) { return late.at(t); }), wren(), marked);
  EXPECT_TRUE(prompted(session, "late_recovery"));
  for (const Warning& prompt : session.prompts) EXPECT_EQ(prompt.message.find("risk"), std::string::npos);
}

TEST(Session, OfTwentySecondsOrAllMissingOrAtAgesFourAndNinetyIsServed) {
  EXPECT_EQ(study_session(steady(20, 100), wren()).effort.duration_us, 20'000'000);
  const SessionEffort missing = study_session(series(300, 8, 2, [](double) { return -1.0; }), wren());
  EXPECT_FALSE(missing.mean_reserve_percent || missing.load || missing.peak || missing.moderate_or_harder_s);
  EXPECT_FALSE(missing.reasons.empty());
  for (const double age : {4.0, 90.0}) {
    Person person = wren();
    person.age_years = age;
    EXPECT_TRUE(study_session(steady(600, 110), person).mean_reserve_percent) << age;
  }
  EXPECT_TRUE(study_session(steady(600, 110), Person{}).phases.size() == 1);
}

TEST(Session, AddingAConstantToRestAndMaximumMovesTheBandAndKeepsTheReserve) {
  Person low = wren(), high = wren();
  low.measured_maximum = 190_bpm;
  high.measured_maximum = 197_bpm;
  high.resting = 73_bpm;
  const SessionEffort a = study_session(steady(300, 140), low), b = study_session(steady(300, 147), high);
  EXPECT_NEAR((b.effort.target->low - a.effort.target->low).value(), 7.0, 1e-12);
  EXPECT_NEAR(a.mean_reserve_percent->value, b.mean_reserve_percent->value, 1e-9);
  EXPECT_NEAR(*a.load->impulse_men, *b.load->impulse_men, 1e-9);
}

}  // namespace
}  // namespace pulsewright
