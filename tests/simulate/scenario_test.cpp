#include <gtest/gtest.h>

#include <functional>
#include <limits>

#include "scenes.hpp"

namespace pulsewright {
namespace {

using namespace literals;
using namespace test;

struct BadScenario {
  const char* what;  ///< must occur in the message
  std::function<void(Scenario&)> spoil;
};

class ScenarioIsRefused : public testing::TestWithParam<BadScenario> {};

TEST_P(ScenarioIsRefused, AsWrongUsageNamingTheOption) {
  Scenario s = quiet(10);
  GetParam().spoil(s);
  try {
    static_cast<void>(simulate(s));
    FAIL() << "accepted";
  } catch (const Error& error) {
    EXPECT_EQ(error.code(), ErrorCode::usage);
    EXPECT_NE(std::string(error.what()).find(GetParam().what), std::string::npos) << error.what();
  }
}

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

INSTANTIATE_TEST_SUITE_P(
    , ScenarioIsRefused,
    testing::Values(
        BadScenario{"no phases", [](Scenario& s) { s.phases.clear(); }},
        BadScenario{"duration", [](Scenario& s) { s.phases[0].duration = 0_s; }},
        BadScenario{"duration", [](Scenario& s) { s.phases[0].duration = Seconds{-1.0}; }},
        BadScenario{"duration", [](Scenario& s) { s.phases[0].duration = Seconds{nan}; }},
        BadScenario{"at least one sample", [](Scenario& s) { s.phases[0].duration = 1_ms; }},
        BadScenario{"2^27", [](Scenario& s) { s.phases[0].duration = Seconds{1e9}; }},
        BadScenario{"sampling rate", [](Scenario& s) { s.rate = 0_hz; }},
        BadScenario{"sampling rate", [](Scenario& s) { s.rate = Hertz{-250.0}; }},
        BadScenario{"sampling rate", [](Scenario& s) { s.rate = Hertz{nan}; }},
        BadScenario{"workload", [](Scenario& s) { s.phases[0].workload = 1.1; }},
        BadScenario{"target rate", [](Scenario& s) { s.phases[0].target = 210_bpm; }},
        BadScenario{"cadence", [](Scenario& s) { s.phases[0].cadence = Hertz{-1.0}; }},
        BadScenario{"resting rate", [](Scenario& s) { s.heart.resting = 5_bpm; }},
        BadScenario{"maximum rate", [](Scenario& s) { s.heart.maximum = 66_bpm; }},
        BadScenario{"rise", [](Scenario& s) { s.heart.rise = 0_s; }},
        BadScenario{"fall", [](Scenario& s) { s.heart.fall = Seconds{-3.0}; }},
        BadScenario{"SDNN", [](Scenario& s) { s.heart.resting_sdnn_ms = 400; }},
        BadScenario{"coupling", [](Scenario& s) { s.heart.early.coupling = 1.0; }},
        BadScenario{"ventricular_every", [](Scenario& s) { s.heart.early.ventricular_every = 1; }},
        BadScenario{"no sensor",
                    [](Scenario& s) {
                      s.ecg.reset();
                      s.pulse.reset();
                    }},
        BadScenario{"bits", [](Scenario& s) { s.ecg->converter = Converter{.bits = 0, .low = 0, .high = 1}; }},
        BadScenario{"bits", [](Scenario& s) { s.pulse->converter = Converter{.bits = 25, .low = 0, .high = 1}; }},
        BadScenario{"converter", [](Scenario& s) { s.ecg->converter = Converter{.bits = 8, .low = 1, .high = 1}; }},
        BadScenario{"white noise", [](Scenario& s) { s.ecg->disturbance.white = -1; }},
        BadScenario{"signal-to-noise", [](Scenario& s) { s.pulse->disturbance.snr_db = nan; }},
        BadScenario{"drop-out",
                    [](Scenario& s) {
                      s.contact.planned = {{{2_s, 1_s}, DropOutForm::gap, ChannelKind::pulse}};
                    }},
        BadScenario{"losses", [](Scenario& s) { s.contact.losses_per_minute = -1; }},
        BadScenario{"mean loss", [](Scenario& s) { s.contact.mean_loss = 0_s; }},
        BadScenario{"jitter", [](Scenario& s) { s.clock.jitter = Seconds{-0.001}; }},
        BadScenario{"clock error", [](Scenario& s) { s.clock.error_ppm = 1e9; }},
        BadScenario{"time stamps", [](Scenario& s) { s.clock.stamps = 3_ms; }}));

TEST(Scenarios, TheShortestRecordingIsOneSample) {
  Scenario s = quiet(0.01, 100);
  const Simulation sim = simulate(s);
  EXPECT_EQ(sim.recording.channels[0].samples.size(), 1U);
}

TEST(Scenarios, EveryNamedOneRunsForEveryMember) {
  for (const ScenarioName& name : scenario_names()) {
    for (const std::string& person : scenario_people()) {
      const Scenario s = stretched(named_scenario(name.name, person), 20_s);
      EXPECT_EQ(s.name, name.name);
      EXPECT_EQ(s.person, person);
      EXPECT_NEAR(s.duration().value(), 20, 1e-9);
      EXPECT_GT(simulate(s).truth.beats.size(), 10U);
    }
  }
}

TEST(Scenarios, UnknownNamesAreRefusedWithAList) {
  EXPECT_THROW(static_cast<void>(named_scenario("marathon")), Error);
  try {
    static_cast<void>(named_scenario("rest", "kestrel"));
    FAIL();
  } catch (const Error& error) {
    EXPECT_NE(std::string(error.what()).find("wren, heron, plover"), std::string::npos);
  }
}

TEST(Scenarios, WrenCoastsAndHeronIsAtTheLimit) {
  const auto peak_reserve = [](const char* person) {
    double peak = 0;
    Scenario s = named_scenario("stair-climb", person);
    s.rate = 1_hz;
    for (const CoursePoint& point : simulate(s).truth.course) peak = std::max(peak, point.reserve);
    return peak;
  };
  EXPECT_LT(peak_reserve("wren"), 0.60);
  EXPECT_GT(peak_reserve("heron"), 0.85);
}

TEST(Scenarios, StretchingKeepsTheProportionsOfThePhases) {
  const Scenario before = named_scenario("stair-climb");
  const Scenario after = stretched(before, 240_s);
  for (std::size_t i = 0; i < before.phases.size(); ++i) {
    EXPECT_NEAR(after.phases[i].duration / before.phases[i].duration, 0.5, 1e-12);
  }
  EXPECT_THROW(static_cast<void>(stretched(before, 0_s)), Error);
}

TEST(Observers, MissAddAndSlipAsOftenAsAsked) {
  const BeatTrain truth = simulate(quiet(3600, 1)).truth.ecg_train(1000_hz);
  const BeatTrain noted = observe(truth, {.missed_percent = 10, .extra_per_minute = 2, .timing_sd = 20_ms, .seed = 3});
  const auto n = static_cast<double>(truth.candidates.size());
  EXPECT_NEAR(static_cast<double>(noted.candidates.size()), 0.9 * n + 120, 90);
  for (std::size_t i = 1; i < noted.candidates.size(); ++i) {
    ASSERT_LE(noted.candidates[i - 1].time, noted.candidates[i].time);
  }
}

TEST(Observers, APerfectOneNotesTheTruth) {
  const BeatTrain truth = simulate(quiet(60)).truth.ecg_train(250_hz);
  const BeatTrain noted = observe(truth, {.missed_percent = 0, .extra_per_minute = 0, .timing_sd = 0_s});
  EXPECT_EQ(noted.times(), truth.times());
}

TEST(Observers, RefuseNegativeNumbers) {
  EXPECT_THROW(static_cast<void>(observe({}, {.missed_percent = -1})), Error);
  EXPECT_THROW(static_cast<void>(observe({}, {.missed_percent = 101})), Error);
  EXPECT_THROW(static_cast<void>(observe({}, {.extra_per_minute = -1})), Error);
  EXPECT_THROW(static_cast<void>(observe({}, {.timing_sd = Seconds{-1.0}})), Error);
}

}  // namespace
}  // namespace pulsewright
