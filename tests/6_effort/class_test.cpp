/// A class side by side, plans, logs.
#include <gtest/gtest.h>

#include "pulsewright/class_session.hpp"
#include "pulsewright/plan.hpp"
#include "pulsewright/training_log.hpp"
#include "rate_series.hpp"
#include "scratch_folder.hpp"

namespace pulsewright {
namespace {

using LogFiles = ScratchFolder;

ClassMember member(const std::string& code, double bpm, std::optional<double> performance = std::nullopt,
                   bool measured_maximum = false) {
  ClassMember result;
  result.entry.code = code;
  result.entry.performance = performance;
  result.rates = steady(600, bpm);
  Person person = wren();
  person.code = code;
  if (measured_maximum) person.measured_maximum = 205_bpm;
  result.session = study_session(result.rates, person);
  return result;
}

const ClassMember& of(const ClassComparison& comparison, const std::string& code) {
  for (const ClassMember& m : comparison.members)
    if (m.entry.code == code) return m;
  throw std::runtime_error(code);
}

TEST(ClassComparison, SmallDifferencesShareAPlaceAndLargeOnesDoNot) {
  // 52, 55 and 80 % of reserve, each uncertain by some 10 at 95 %.
  const ClassComparison comparison =
      compare_class({member("wren", 138.3), member("heron", 142.5), member("plover", 177.2)}, {});
  EXPECT_EQ(comparison.members[0].entry.code, "plover");
  EXPECT_EQ(comparison.members[0].standing->best, 1);
  EXPECT_EQ(comparison.members[0].standing->worst, 1);
  for (const char* code : {"wren", "heron"}) {
    EXPECT_EQ(of(comparison, code).standing->best, 2) << code;
    EXPECT_EQ(of(comparison, code).standing->worst, 3) << code;
  }
}

TEST(ClassComparison, MeasuredMaximaTellSmallerDifferencesApart) {
  const ClassComparison comparison = compare_class({member("wren", 138, {}, true), member("heron", 142, {}, true)}, {});
  EXPECT_EQ(of(comparison, "heron").standing->worst, 1);
  EXPECT_EQ(of(comparison, "wren").standing->best, 2);
  // One beat is the resolution: closer than that nobody is ranked.
  const ClassComparison close = compare_class({member("wren", 140, {}, true), member("heron", 141, {}, true)}, {});
  EXPECT_EQ(of(close, "wren").standing->best, 1);
}

TEST(ClassComparison, ClearlyMoreMeansMoreThanBothIntervalsTogether) {
  EXPECT_TRUE(clearly_more({10, 7, 13}, {5, 2, 8}, 0));     // 5 > sqrt(3^2 + 3^2)
  EXPECT_FALSE(clearly_more({10, 6, 14}, {5, 1, 9}, 0));    // 5 < sqrt(4^2 + 4^2)
  EXPECT_TRUE(clearly_more({10, 10, 99}, {5, -99, 5}, 0));  // only the sides that face each other count
  EXPECT_FALSE(clearly_more({10, 10, 10}, {9, 9, 9}, 1));
  EXPECT_FALSE(clearly_more({5, 5, 5}, {5, 5, 5}, 0));
}

TEST(ClassComparison, QuickAtEaseAndSlowAtTheLimitAreSeen) {
  const PerformanceMeasure laps{"laps", true};
  const ClassComparison comparison =
      compare_class({member("wren", 110, 9), member("heron", 190, 4), member("plover", 150, 7),
                     member("siskin", 152, 8), member("dipper", 149, 6)},
                    laps);
  EXPECT_EQ(of(comparison, "wren").effort_for_place, EffortForPlace::ahead_at_ease);
  EXPECT_EQ(of(comparison, "heron").effort_for_place, EffortForPlace::behind_at_limit);
  for (const char* code : {"plover", "siskin", "dipper"})
    EXPECT_EQ(of(comparison, code).effort_for_place, EffortForPlace::unclear) << code;
  // With places, less is better, and the two change roles.
  const ClassComparison places =
      compare_class({member("wren", 110, 9), member("heron", 190, 1), member("plover", 150, 5)}, {"place", false});
  EXPECT_EQ(of(places, "wren").effort_for_place, EffortForPlace::unclear);
}

TEST(ClassComparison, SortsByEveryMeasureAndPutsThoseWithoutAValueLast) {
  ClassMember failed;
  failed.entry.code = "robin";
  failed.failure = "robin.csv: cannot be opened";
  for (const ClassMeasure measure :
       {ClassMeasure::effort, ClassMeasure::target, ClassMeasure::moderate, ClassMeasure::load, ClassMeasure::peak}) {
    const ClassComparison comparison =
        compare_class({failed, member("wren", 90), member("heron", 160)}, {}, {measure, false});
    EXPECT_EQ(comparison.members[0].entry.code, "heron") << to_string(measure);
    EXPECT_EQ(comparison.members[2].entry.code, "robin") << to_string(measure);
    EXPECT_FALSE(comparison.members[2].standing);
    EXPECT_EQ(class_measure_of(to_string(measure)), measure);
  }
  EXPECT_EQ(
      compare_class({member("wren", 90), member("heron", 160)}, {}, {ClassMeasure::code, false}).members[0].entry.code,
      "heron");
  EXPECT_EQ(
      compare_class({member("wren", 90), member("heron", 160)}, {}, {ClassMeasure::effort, true}).members[0].entry.code,
      "wren");
  EXPECT_EQ(compare_class({member("wren", 90, 2), member("heron", 160, 1)}, {"place", false},
                          {ClassMeasure::performance, false})
                .members[0]
                .entry.code,
            "heron");
  EXPECT_TRUE(compare_class({}, {}).members.empty());
}

TEST(Plan, TurnsATargetAndDurationsIntoRates) {
  // Age 15, resting 66, maximum 205, reserve 139: 30, 40, 60 and 85 % are 107.7, 121.6, 149.4 and 184.15 (Karvonen et al. 1957).
  const TargetZone target = target_zone(*maximum_rate(wren()), RestingRate{66_bpm, RestingSource::given, std::nullopt});
  const std::vector<PlanPhase> plan = session_plan(target, plan_durations("5-3x4/2-6"));
  ASSERT_EQ(plan.size(), 7u);
  EXPECT_EQ(plan.front().kind, PhaseKind::warm_up);
  EXPECT_NEAR(plan.front().low.value(), 107.7, 1e-9);
  EXPECT_NEAR(plan.front().high.value(), 149.4, 1e-9);
  EXPECT_EQ(plan[2].kind, PhaseKind::pause);
  EXPECT_NEAR(plan[2].high.value(), 121.6, 1e-9);
  EXPECT_NEAR(plan[3].high.value(), 184.15, 1e-9);
  EXPECT_EQ(plan.back().span.end, Seconds{60.0 * (5 + 3 * 4 + 2 * 2 + 6)});
  const TargetZone limited = *with_ceiling(target, 160_bpm);
  EXPECT_EQ(session_plan(limited, plan_durations("5-20-5"))[1].high, 160_bpm);
}

TEST(Plan, RefusesWhatIsNoPlan) {
  for (const char* text : {"", "20", "5-20", "5-20-5-1", "0-20-5", "5-20-x", "5-0x4-5", "5-2.5x4-5", "5-3x4/0-5",
                           "5-20/2-5", "5-200-5", "5-99x1-5"})
    EXPECT_THROW((void)plan_durations(text), Error) << text;
}

LogEntry entry(const std::string& date, const std::string& code, double minutes, double percent,
               const std::string& activity = "run") {
  LogEntry result;
  result.date = date;
  result.code = code;
  result.session = "clip.csv";
  result.activity = activity;
  result.minutes = result.measured_minutes = minutes;
  result.mean_reserve_percent = percent;
  result.weighted_minutes = 2 * minutes;
  return result;
}

TEST(TrainingLog, SumsUpWeeksFromMondayToSundayWithTheChange) {
  std::vector<LogEntry> log;
  add_to_log(log, entry("2026-03-02", "wren", 30, 60));            // a Monday
  add_to_log(log, entry("2026-03-08", "wren", 10, 80, "stairs"));  // the Sunday of that week
  add_to_log(log, entry("2026-03-09", "wren", 60, 50));            // the week after
  add_to_log(log, entry("2026-03-23", "wren", 20, 50));            // two weeks on
  add_to_log(log, entry("2026-03-10", "heron", 45, 70));
  const std::vector<LogWeek> weeks = weeks_of(log);
  ASSERT_EQ(weeks.size(), 5u);
  EXPECT_EQ(weeks[0].code, "heron");
  EXPECT_EQ(weeks[1].monday, "2026-03-02");
  EXPECT_EQ(weeks[1].sessions, 2);
  EXPECT_DOUBLE_EQ(weeks[1].minutes, 40);
  EXPECT_DOUBLE_EQ(*weeks[1].mean_reserve_percent, (30.0 * 60 + 10.0 * 80) / 40);
  EXPECT_EQ(weeks[1].activities, "run, stairs");
  EXPECT_FALSE(weeks[1].minutes_change_percent);
  EXPECT_NEAR(*weeks[2].minutes_change_percent, 50.0, 1e-9);
  EXPECT_EQ(weeks[3].sessions, 0);  // the empty week is there
  EXPECT_NEAR(*weeks[3].minutes_change_percent, -100.0, 1e-9);
  EXPECT_FALSE(weeks[3].mean_reserve_percent || weeks[4].minutes_change_percent);
}

TEST(TrainingLog, TheSameSessionIsReplacedAndNeverCountedTwice) {
  std::vector<LogEntry> log;
  EXPECT_FALSE(add_to_log(log, entry("2026-03-02", "wren", 30, 60)));
  EXPECT_TRUE(add_to_log(log, entry("2026-03-02", "wren", 31, 61)));
  ASSERT_EQ(log.size(), 1u);
  EXPECT_DOUBLE_EQ(log[0].minutes, 31);
}

TEST_F(LogFiles, AreRefusedByLineAndAnAbsentOneIsEmpty) {
  EXPECT_TRUE(read_log(folder_ / "none.csv").empty());
  const auto path =
      write("log.csv", "date,code,session,activity,duration_min,measured_min\n2026-02-30,wren,a,run,30,x\n");
  const std::string said = refusal([&] { (void)read_log(path); });
  EXPECT_NE(said.find(":2: column 'date'"), std::string::npos) << said;
  EXPECT_NE(said.find("column 'measured_min'"), std::string::npos) << said;
  EXPECT_THROW((void)log_entry("1.3.2026", "a", study_session(steady(60, 90), wren())), Error);
}

}  // namespace
}  // namespace pulsewright
