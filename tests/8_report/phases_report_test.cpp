#include <gtest/gtest.h>

#include <cmath>
#include <sstream>

#include "pulsewright/effort_report.hpp"

namespace pulsewright {
namespace {

constexpr double rest_bpm = 70, work_bpm = 160, rise_s = 30, fall_s = 45;
constexpr double start_s = 90, stop_s = 330, end_s = 600;

/// Rest, a bout, rest again, each an exponential with a known time constant.
double true_rate(double t) {
  if (t < start_s) return rest_bpm;
  if (t < stop_s) return work_bpm + (rest_bpm - work_bpm) * std::exp(-(t - start_s) / rise_s);
  return rest_bpm + (work_bpm - rest_bpm) * std::exp(-(t - stop_s) / fall_s);
}

/// Windows that each have the mean of the true rate over them.
Analysis one_bout(double until = end_s) {
  Analysis analysis;
  analysis.rates.duration = Seconds{until};
  for (double t = 0; t + 8 <= until; t += 2) {
    double sum = 0;
    for (int k = 0; k < 80; ++k) sum += true_rate(t + 0.1 * (k + 0.5));
    RateWindow window;
    window.window = {Seconds{t}, Seconds{t + 8}};
    window.rate = BeatsPerMinute{sum / 80};
    window.low = *window.rate - BeatsPerMinute{1};
    window.high = *window.rate + BeatsPerMinute{1};
    window.confidence = 0.99;
    analysis.rates.windows.push_back(window);
  }
  Person person;
  person.code = "wren";
  person.age_years = 15;
  person.resting = BeatsPerMinute{rest_bpm};
  analysis.effort = effort(analysis.rates, person);
  analysis.beats.duration = Seconds{until};
  return analysis;
}

bool stands_in(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

/// The rows of a figure's data, from between its link's quotes.
std::vector<std::vector<std::string>> data_of(const std::string& page, const std::string& name) {
  const std::size_t at = page.find("charset=utf-8,", page.find("download=\"" + name + ".csv\""));
  std::string text = page.substr(at + 14, page.find('"', at) - at - 14);
  for (std::size_t end = text.find("%0A"); end != std::string::npos; end = text.find("%0A")) text.replace(end, 3, "\n");
  std::vector<std::vector<std::string>> rows;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    rows.emplace_back();
    line += ",";
    for (std::size_t begin = 0, end = 0; (end = line.find(',', begin)) != std::string::npos; begin = end + 1)
      rows.back().push_back(line.substr(begin, end - begin));
  }
  return rows;
}

TEST(PhasesInAReport, StandUnderTheRateAndInTheirData) {
  const Analysis analysis = one_bout();
  const SessionEffort session = study_session(analysis.rates, analysis.effort.person);
  const std::string page = session_report({analysis}, session);
  EXPECT_TRUE(stands_in(page, "Phases: rest 0:00 - 1:"));
  const auto rows = data_of(page, "phases");
  ASSERT_EQ(rows.size(), session.phases.size() + 1);
  EXPECT_EQ(rows[2][2], "work");
  EXPECT_NEAR(std::stod(rows[2][4]), start_s, 10);
  EXPECT_FALSE(stands_in(session_report({analysis}), "Phases: "));
}

TEST(PhasesInAReport, OfALongRecordingAreSaidToBeLeftOut) {
  Analysis analysis = one_bout();
  const std::string note =
      "Phases of a session (warm-up, work, cool-down) are looked for in recordings of up to 3:00:00";
  EXPECT_FALSE(stands_in(session_report({analysis}), note));
  analysis.rates.duration = longest_session + Seconds{1};
  EXPECT_TRUE(stands_in(session_report({analysis}), note));
}

TEST(RecoveryInAReport, DrawsTheCurveThatWasFittedOverWhatWasMeasured) {
  const Analysis analysis = one_bout();
  const SessionEffort session = study_session(analysis.rates, analysis.effort.person);
  const std::string page = session_report({analysis}, session);
  ASSERT_TRUE(stands_in(page, "id=\"figure-recovery\""));
  EXPECT_TRUE(stands_in(page, "has a time constant of 4"));  // 45 s within a few per cent
  const auto rows = data_of(page, "recovery");
  ASSERT_EQ(rows.front().back(), "fitted_bpm");
  int fitted = 0;
  for (std::size_t i = 1; i < rows.size(); ++i) {
    // From one window after the stop on, no window reaches over it.
    if (rows[i][4].empty() || std::stod(rows[i][2]) < 8) continue;
    EXPECT_NEAR(std::stod(rows[i][4]), std::stod(rows[i][3]), 1.5) << rows[i][0];
    ++fitted;
  }
  EXPECT_GT(fitted, 60);
}

TEST(RecoveryInAReport, SaysWhereNoCurveOrNoFallCanBeGiven) {
  const Analysis analysis = one_bout(stop_s + 40);
  const SessionEffort session = study_session(analysis.rates, analysis.effort.person);
  ASSERT_TRUE(session.recovery.has_value());
  const std::string page = session_report({analysis}, session);
  EXPECT_TRUE(stands_in(page, "The fall in the first minute could not be measured."));
  EXPECT_TRUE(stands_in(page, "No curve is drawn"));
  EXPECT_FALSE(stands_in(page, "class=\"fitted\""));
}

TEST(RecoveryInAReport, IsLeftOutWhereNoBoutEnds) {
  const Analysis analysis = one_bout(80);
  const SessionEffort session = study_session(analysis.rates, analysis.effort.person);
  for (const Language language : {Language::english, Language::german, Language::spanish})
    EXPECT_FALSE(stands_in(session_report({analysis}, session, language), "figure-recovery"));
}

}  // namespace
}  // namespace pulsewright
