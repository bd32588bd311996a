#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <vector>

#include "3_beats/running_scene.hpp"
#include "pulsewright/rate_track.hpp"

namespace {

using namespace pulsewright;
using beat_tests::Course;
using beat_tests::running;
using beat_tests::RunningScene;
using beat_tests::steady_course;

double middle_of(const TrackPoint& point) { return 0.5 * (point.window.start + point.window.end).value(); }

/// Mean absolute error over the points that have a rate, from `from_s` on; none when fewer than half of the points have one.
double mean_error(const RateTrack& track, const Course& truth, double from_s = 0.0) {
  double sum = 0.0, count = 0.0, asked = 0.0;
  for (const TrackPoint& point : track.points) {
    if (point.window.start.value() < from_s) continue;
    asked += 1.0;
    if (!point.rate) continue;
    sum += std::abs(point.rate->value() - truth(middle_of(point)));
    count += 1.0;
  }
  return count > 0.5 * asked ? sum / count : std::nan("");
}

double mean_confidence(const RateTrack& track) {
  double sum = 0.0, count = 0.0;
  for (const TrackPoint& point : track.points) {
    if (!point.confidence) continue;
    sum += *point.confidence;
    count += 1.0;
  }
  return count > 0.0 ? sum / count : std::nan("");
}

TEST(RateTrack, FollowsTheHeartWhereStepsAreThreeTimesAsStrong) {
  const RunningScene scene;
  for (const bool streaming : {false, true}) {
    const RateTrack track = track_rate(
        running(scene), {.channels = {}, .motion = {}, .streaming = streaming, .condition = {}, .threads = 1});
    EXPECT_EQ(track.points.size(), 57U);
    EXPECT_TRUE(track.motion_used);
    EXPECT_LT(mean_error(track, scene.heart), 1.5) << (streaming ? "causal" : "whole");
    EXPECT_GT(mean_confidence(track), 0.8);
  }
}

TEST(RateTrack, TellsTheHeartFromTheStepsWithoutAMotionChannel) {
  const RunningScene scene;
  TrackOptions options;
  options.motion.emplace();
  for (const bool streaming : {false, true}) {
    options.streaming = streaming;
    const RateTrack track = track_rate(running(scene), options);
    EXPECT_FALSE(track.motion_used);
    EXPECT_LT(mean_error(track, scene.heart), 2.0) << (streaming ? "causal" : "whole");
    EXPECT_FALSE(track.points[20].cadence);
  }
}

/// Four minutes: steps from the second to the third, rest around them.
struct WalkBetweenRests {
  RunningScene scene;
  Recording recording;
};

WalkBetweenRests walk_between_rests() {
  WalkBetweenRests walk;
  walk.scene.seconds = 240;
  walk.scene.heart = [](double t) {
    return t < 60.0 ? 75.0 : t < 180.0 ? 75.0 + 0.6 * (t - 60.0) : 147.0 - 0.4 * (t - 180.0);
  };
  walk.recording = running(walk.scene);
  walk.scene.motion_gain = 0.0;
  const Recording still = running(walk.scene);
  const auto steps = [](std::size_t i) { return i >= 60 * 125 && i < 180 * 125; };
  std::vector<float>& samples = walk.recording.channels[0].samples;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    if (!steps(i)) samples[i] = still.channels[0].samples[i];
  }
  return walk;
}

TEST(RateTrack, GoesOnWithTheHeartWhenStepsBeginAndEndWithoutAMotionChannel) {
  const WalkBetweenRests walk = walk_between_rests();
  TrackOptions options;
  options.motion.emplace();
  const RateTrack track = track_rate(walk.recording, options);
  EXPECT_LT(mean_error(track, walk.scene.heart), 1.5);
  EXPECT_GT(mean_confidence(track), 0.85);
}

TEST(RateTrack, IsNeverSureOfAHeartThatItOnlySawInMotionWithoutAMotionChannel) {
  WalkBetweenRests walk = walk_between_rests();
  std::vector<float>& samples = walk.recording.channels[0].samples;
  samples = {samples.begin() + 70 * 125, samples.begin() + 170 * 125};
  walk.recording.duration = Seconds{100};
  TrackOptions options;
  options.motion.emplace();
  for (const bool streaming : {false, true}) {
    options.streaming = streaming;
    const RateTrack track = track_rate(walk.recording, options);
    EXPECT_GT(track.points.size(), 40U);
    for (const TrackPoint& point : track.points) {
      EXPECT_LE(*point.confidence, 0.8);
      const double truth = walk.scene.heart(70.0 + middle_of(point));
      EXPECT_LE(point.low->value(), truth);
      EXPECT_GE(point.high->value(), truth);
      // As wide as what the heart may be.
      EXPECT_GT(point.high->value() - point.low->value(), 50.0);
    }
  }
}

TEST(RateTrack, DoesNotTakeASlowPulseForAStride) {
  for (const double bpm : {40.0, 48.0, 56.0, 66.0, 80.0}) {
    RunningScene scene;
    scene.heart = steady_course(bpm);
    scene.motion_gain = 0.0;
    TrackOptions options;
    options.motion.emplace();
    EXPECT_LT(mean_error(track_rate(running(scene), options), scene.heart), 1.0) << bpm << " beats/min";
  }
}

TEST(RateTrack, FollowsARecordingThatIsWorkedOnInSeveralBlocks) {
  RunningScene scene;
  scene.motion_gain = 0.5;
  scene.seconds = 1300;
  scene.heart = [](double t) { return 110.0 + 30.0 * std::sin(0.01 * t); };
  TrackOptions options;
  options.motion.emplace();
  EXPECT_LT(mean_error(track_rate(running(scene), options), scene.heart), 1.5);
}

TEST(RateTrack, IsTheSameOverLongRecordingsWithThreadsAndWithout) {
  RunningScene scene;
  scene.seconds = 75.0 * 60.0;  // more than four stretches of windows
  const Recording recording = running(scene);
  for (const bool streaming : {false, true}) {
    TrackOptions options;
    options.motion.emplace();
    options.streaming = streaming;
    const RateTrack alone = track_rate(recording, options);
    EXPECT_LT(mean_error(alone, scene.heart), 2.0);
    options.threads = 2;
    const RateTrack beside = track_rate(recording, options);
    ASSERT_EQ(alone.points.size(), beside.points.size());
    for (std::size_t k = 0; k < alone.points.size(); ++k) {
      const TrackPoint &a = alone.points[k], &b = beside.points[k];
      ASSERT_EQ(a.rate, b.rate) << k;
      ASSERT_EQ(a.low, b.low) << k;
      ASSERT_EQ(a.high, b.high) << k;
      ASSERT_EQ(a.confidence, b.confidence) << k;
    }
  }
}

TEST(RateTrack, HoldsTheHeartWhenTheCadenceIsItsHalfOrItsDouble) {
  for (const double cadence : {70.0, 200.0}) {
    RunningScene scene;
    scene.heart = steady_course(cadence == 70.0 ? 140.0 : 100.0);
    scene.cadence = steady_course(cadence);
    scene.motion_gain = 1.0;
    const RateTrack track = track_rate(running(scene));
    EXPECT_LT(mean_error(track, scene.heart), 3.0) << cadence << " steps/min";
    const auto marked =
        std::count_if(track.points.begin(), track.points.end(), [](const TrackPoint& p) { return p.at_cadence; });
    EXPECT_GT(marked, static_cast<std::ptrdiff_t>(track.points.size()) / 2) << cadence << " steps/min";
  }
}

TEST(RateTrack, PassesThroughTheCadenceAndSaysWhereTheyCoincide) {
  RunningScene scene;
  scene.heart = [](double t) { return 110.0 + 0.5 * t; };  // meets 150 steps/min at 80 s
  scene.cadence = steady_course(150);
  scene.motion_gain = 2.0;
  scene.seconds = 160;
  const RateTrack track = track_rate(running(scene));
  EXPECT_LT(mean_error(track, scene.heart), 3.0);
  EXPECT_GT(track.points.size(), 70U);
  for (const TrackPoint& point : track.points) {
    const double apart = std::abs(scene.heart(middle_of(point)) - 150.0);
    ASSERT_TRUE(point.cadence);
    EXPECT_NEAR(point.cadence->value(), 150.0, 2.0);
    if (apart > 20.0) {
      EXPECT_FALSE(point.at_cadence) << point.window.start.value();
    }
  }
  EXPECT_TRUE(std::any_of(track.points.begin(), track.points.end(), [](const TrackPoint& p) { return p.at_cadence; }));
}

TEST(RateTrack, FollowsAStepOfFortyBeatsAMinute) {
  RunningScene scene;
  scene.heart = [](double t) { return t < 60.0 ? 100.0 : 140.0; };
  const RateTrack track = track_rate(running(scene));
  EXPECT_EQ(track.points.size(), 57U);
  for (const TrackPoint& point : track.points) {
    const double t = middle_of(point);
    if (t > 50.0 && t < 70.0) continue;
    EXPECT_NEAR(point.rate->value(), scene.heart(t), 4.0) << t << " s";
  }
}

TEST(RateTrack, WorksFromTwentyFiveToThreeHundredHertz) {
  for (const double rate : {25.0, 64.0, 100.0, 256.0, 300.0}) {
    RunningScene scene;
    scene.rate_hz = rate;
    EXPECT_LT(mean_error(track_rate(running(scene)), scene.heart), 1.5) << rate << " Hz";
  }
}

TEST(RateTrack, DoesNotDependOnTheOrderOfPulseChannels) {
  RunningScene scene;
  Recording one = running(scene);
  scene.seed = 2;
  scene.motion_gain = 0.5;
  one.channels.push_back(running(scene).channels[0]);
  Recording other = one;
  std::swap(other.channels.front(), other.channels.back());
  const RateTrack a = track_rate(one), b = track_rate(other);
  ASSERT_EQ(a.points.size(), b.points.size());
  ASSERT_GT(a.points.size(), 50U);
  for (std::size_t k = 0; k < a.points.size(); ++k)
    EXPECT_NEAR(a.points[k].rate->value(), b.points[k].rate->value(), 0.05);
}

TEST(RateTrack, HasNoRateWhileTheSensorIsLiftedOff) {
  const RunningScene scene;
  Recording recording = running(scene);
  for (std::size_t i = 60 * 125; i < 90 * 125; ++i)
    recording.channels[0].samples[i] = std::numeric_limits<float>::quiet_NaN();
  const RateTrack track = track_rate(recording);
  int lifted = 0;
  for (const TrackPoint& point : track.points) {
    const bool inside = point.window.start.value() >= 60.0 && point.window.end.value() <= 90.0;
    if (inside) {
      ++lifted;
      EXPECT_FALSE(point.rate) << point.window.start.value();
    }
  }
  EXPECT_GE(lifted, 11);
  EXPECT_LT(mean_error(track, scene.heart), 2.0);
}

TEST(RateTrack, IsUnsureOfASaturatedSensor) {
  Recording recording = running({});
  for (std::size_t i = 60 * 125; i < 120 * 125; ++i) recording.channels[0].samples[i] = 4.0F;
  const RateTrack track = track_rate(recording);
  int saturated = 0;
  for (const TrackPoint& point : track.points) {
    if (point.window.start.value() < 75.0 || point.window.end.value() > 118.0) continue;
    ++saturated;
    EXPECT_TRUE(!point.rate || *point.confidence < 0.5) << point.window.start.value();
  }
  EXPECT_GE(saturated, 17);
}

TEST(RateTrack, IsUnsureOfNoise) {
  std::mt19937 random{5};
  std::normal_distribution<float> normal;
  Recording recording = running({});
  for (Channel& channel : recording.channels) {
    for (float& v : channel.samples) v = normal(random);
  }
  for (const bool motion : {false, true}) {
    TrackOptions options;
    if (!motion) options.motion.emplace();
    const RateTrack track = track_rate(recording, options);
    EXPECT_LT(mean_confidence(track), 0.5) << (motion ? "with" : "without") << " motion channels";
  }
}

TEST(RateTrack, OfTheCausalFormDoesNotChangeWithWhatComesLater) {
  RunningScene scene;
  const Recording whole = running(scene);
  Recording part = whole;
  part.duration = Seconds{60};
  for (Channel& channel : part.channels) channel.samples.resize(60 * 125);
  TrackOptions options;
  options.streaming = true;
  const RateTrack a = track_rate(whole, options), b = track_rate(part, options);
  EXPECT_NEAR(a.delay.value(), 4.32, 1e-9);
  ASSERT_GE(a.points.size(), b.points.size());
  std::size_t compared = 0;
  for (std::size_t k = 0; k < b.points.size(); ++k, ++compared) {
    // The last windows of the part have not been waited for.
    if (b.points[k].window.end + a.delay > part.duration) break;
    EXPECT_EQ(a.points[k].rate->value(), b.points[k].rate->value()) << k;
    EXPECT_EQ(*a.points[k].confidence, *b.points[k].confidence) << k;
  }
  EXPECT_GT(compared, 20U);
}

TEST(RateTrack, CoversTheTruthWithItsInterval) {
  std::size_t inside = 0, all = 0;
  for (unsigned seed = 1; seed <= 6; ++seed) {
    RunningScene scene;
    scene.seed = seed;
    scene.heart = [seed](double t) { return 110.0 + 5.0 * seed + 15.0 * std::sin(0.05 * t); };
    for (const TrackPoint& point : track_rate(running(scene)).points) {
      const double truth = scene.heart(middle_of(point));
      inside += point.low->value() <= truth && truth <= point.high->value() ? 1 : 0;
      ++all;
    }
  }
  EXPECT_EQ(all, 6U * 57U);
  EXPECT_GE(static_cast<double>(inside), 0.95 * static_cast<double>(all));
}

TEST(RateTrack, SaysWhenThereIsNothingToFollow) {
  RunningScene scene;
  scene.seconds = 6;
  EXPECT_EQ(track_rate(running(scene)).warnings.at(0).code, "shorter_than_window");
  scene.seconds = 60;
  scene.rate_hz = 12;
  EXPECT_EQ(track_rate(running(scene)).warnings.at(0).code, "too_slow_to_track");
  Recording no_pulse = running({});
  no_pulse.channels.erase(no_pulse.channels.begin());
  EXPECT_THROW((void)track_rate(no_pulse), Error);
  TrackOptions wrong;
  wrong.motion = std::vector<std::size_t>{0};
  EXPECT_THROW((void)track_rate(running({}), wrong), Error);
}

}  // namespace
