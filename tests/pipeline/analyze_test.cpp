#include <gtest/gtest.h>

#include "pulsewright/error.hpp"
#include "pulsewright/pipeline.hpp"
#include "pulsewright/report.hpp"
#include "pulsewright/simulate.hpp"

namespace {

using namespace pulsewright;

TEST(Analyze, FollowsASimulatedSessionFromSamplesToEffort) {
  Scenario scene;
  scene.name = "session";
  scene.rate = Hertz{250};
  scene.heart.resting = BeatsPerMinute{66};
  scene.heart.maximum = BeatsPerMinute{205};
  scene.phases = {{.name = "rest", .duration = Seconds{180}, .workload = 0.0},
                  {.name = "work", .duration = Seconds{300}, .workload = 0.7},
                  {.name = "rest", .duration = Seconds{240}, .workload = 0.0}};
  scene.ecg = EcgSensor{};
  const Simulation simulation = simulate(scene);

  Person person;
  person.age_years = 15;
  person.resting = BeatsPerMinute{66};
  const Analysis analysis = analyze(simulation.recording, person);

  const auto truth = simulation.truth.ecg_train(scene.rate).times().size();
  EXPECT_NEAR(static_cast<double>(analysis.beats.times().size()), static_cast<double>(truth), 3);
  EXPECT_EQ(analysis.intervals.intervals.size() + 1, analysis.beats.times().size());
  ASSERT_TRUE(analysis.effort.target.has_value());
  // 70 % of a reserve of 139 over 66 is 163 beats/min; the session's peak lies there.
  ASSERT_TRUE(analysis.effort.peak_rate.has_value());
  EXPECT_NEAR(analysis.effort.peak_rate->value(), 163, 4);
  ASSERT_TRUE(analysis.effort.category_us.has_value());
  std::int64_t sum = analysis.effort.unmeasured_us;
  for (const std::int64_t part : *analysis.effort.category_us) sum += part;
  EXPECT_EQ(sum, analysis.effort.duration_us);
  EXPECT_EQ(analysis.effort.duration_us, 720'000'000);
  // Rates of windows well inside the work phase follow the course.
  int compared = 0;
  for (const RateWindow& w : analysis.rates.windows) {
    if (w.window.start < Seconds{360} || w.window.end > Seconds{470}) continue;
    ASSERT_TRUE(w.rate.has_value());
    const auto second = static_cast<std::size_t>((w.window.start.value() + w.window.end.value()) / 2);
    EXPECT_NEAR(w.rate->value(), simulation.truth.course[second].rate.value(), 4);
    ++compared;
  }
  EXPECT_GT(compared, 40);
}

TEST(Analyze, AcceptsBeatsThatAreAlreadyThere) {
  BeatTrain beats;
  beats.duration = Seconds{60};
  for (int i = 0; i < 60; ++i) beats.candidates.emplace_back().time = Seconds{0.5 + i};
  const Analysis analysis = analyze(beats, Person{});
  EXPECT_EQ(analysis.intervals.intervals.size(), 59U);
  ASSERT_TRUE(analysis.variability.mean_nn_ms.has_value());
  EXPECT_NEAR(*analysis.variability.mean_nn_ms, 1000, 1e-6);
  ASSERT_FALSE(analysis.rates.windows.empty());
  EXPECT_NEAR(analysis.rates.windows[5].rate->value(), 60, 1e-6);
}

/// A finger clip over five minutes of rest and stairs.
Recording clip() {
  Scenario scene;
  scene.name = "clip";
  scene.rate = Hertz{50};
  scene.phases = {{.name = "rest", .duration = Seconds{120}, .workload = 0.0},
                  {.name = "stairs", .duration = Seconds{180}, .workload = 0.6}};
  scene.pulse = PulseSensor{};
  return simulate(scene).recording;
}

TEST(Analyze, SaysTheSameWhateverTheNumberOfThreads) {
  const Recording recording = clip();
  AnalyzeOptions options;
  const std::string alone = analysis_json(analyze(recording, Person{}, options));
  options.threads = 2;
  for (int times = 0; times < 3; ++times) EXPECT_EQ(analysis_json(analyze(recording, Person{}, options)), alone);
}

TEST(Analyze, RefusesMotionChannelsThatAreNoneInAnotherThreadToo) {
  const Recording recording = clip();
  AnalyzeOptions options;
  options.motion = {0};
  for (const std::size_t threads : {1, 2}) {
    options.threads = threads;
    try {
      (void)analyze(recording, Person{}, options);
      FAIL() << "with " << threads << " threads";
    } catch (const Error& error) {
      EXPECT_EQ(error.code(), ErrorCode::usage);
    }
  }
}

TEST(Analyze, GoesOnWithTheBeatsThatAReviewLeft) {
  AnalyzeOptions options;
  options.threads = 2;
  options.review = [](BeatTrain beats) {
    beats.candidates.resize(100);
    return beats;
  };
  EXPECT_LT(analyze(clip(), Person{}, options).intervals.intervals.size(), 100U);
  options.review = [](const BeatTrain&) -> BeatTrain { throw Error(ErrorCode::usage, "no such edit"); };
  EXPECT_THROW((void)analyze(clip(), Person{}, options), Error);
}

}  // namespace
