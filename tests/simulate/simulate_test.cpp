#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstring>

#include "scenes.hpp"

namespace pulsewright {
namespace {

using namespace literals;
using namespace test;

bool same_bytes(const std::vector<float>& a, const std::vector<float>& b) {
  return a.size() == b.size() && std::memcmp(a.data(), b.data(), a.size() * sizeof(float)) == 0;
}

bool same_beats(const Truth& a, const Truth& b) {
  return std::equal(a.beats.begin(), a.beats.end(), b.beats.begin(), b.beats.end(),
                    [](const TrueBeat& x, const TrueBeat& y) {
                      return x.time == y.time && x.pulse_time == y.pulse_time && x.label == y.label;
                    });
}

TEST(Simulation, SameSeedGivesTheSameBytes) {
  for (const ScenarioName& name : scenario_names()) {
    const Scenario s = stretched(named_scenario(name.name, "plover"), 60_s);
    const Simulation a = simulate(s);
    const Simulation b = simulate(s);
    ASSERT_EQ(a.recording.channels.size(), 5U);
    for (std::size_t c = 0; c < a.recording.channels.size(); ++c) {
      EXPECT_TRUE(same_bytes(a.recording.channels[c].samples, b.recording.channels[c].samples)) << name.name;
    }
    EXPECT_TRUE(same_beats(a.truth, b.truth));
  }
}

TEST(Simulation, AnotherSeedGivesOtherBeatsAndSamples) {
  Scenario s = quiet();
  const Simulation a = simulate(s);
  s.seed = 2;
  const Simulation b = simulate(s);
  EXPECT_FALSE(same_bytes(a.recording.channels[0].samples, b.recording.channels[0].samples));
  EXPECT_FALSE(same_beats(a.truth, b.truth));
}

TEST(Simulation, OtherDevicesSeeTheSameHeart) {
  const Scenario chest = [] {
    Scenario s = named_scenario("stair-climb", "plover");
    s.pulse.reset();
    s.motion.reset();
    s.rate = 500_hz;
    return stretched(s, 120_s);
  }();
  const Scenario clip = [] {
    Scenario s = named_scenario("stair-climb", "plover");
    s.ecg.reset();
    s.rate = 64_hz;
    s.clock.jitter = 1_ms;
    s.contact.losses_per_minute = 4;
    return stretched(s, 120_s);
  }();
  EXPECT_TRUE(same_beats(simulate(chest).truth, simulate(clip).truth));
}

TEST(Simulation, ChannelsStandInTheirOrderWithNamesUnitsAndLength) {
  Scenario s = quiet(10, 100);
  s.motion = MotionSensor{};
  const Simulation sim = simulate(s);
  const std::vector<std::string> names{"ecg", "pulse", "acc_x", "acc_y", "acc_z"};
  const std::vector<std::string> units{"mV", "counts", "g", "g", "g"};
  ASSERT_EQ(sim.recording.channels.size(), names.size());
  for (std::size_t i = 0; i < names.size(); ++i) {
    EXPECT_EQ(sim.recording.channels[i].name, names[i]);
    EXPECT_EQ(sim.recording.channels[i].unit, units[i]);
    EXPECT_EQ(sim.recording.channels[i].samples.size(), 1000U);
    EXPECT_EQ(sim.recording.channels[i].rate, 100_hz);
  }
  EXPECT_EQ(sim.recording.duration, 10_s);
  EXPECT_EQ(sim.recording.provenance.format, "simulated");
}

/// Times of local maxima of `values` above `threshold`, by a parabola through three samples.
std::vector<double> maxima(const Channel& c, double threshold) {
  std::vector<double> found;
  for (std::size_t i = 1; i + 1 < c.samples.size(); ++i) {
    const double a = c.samples[i - 1];
    const double b = c.samples[i];
    const double d = c.samples[i + 1];
    if (b <= threshold || b <= a || b < d) continue;
    found.push_back((static_cast<double>(i) + 0.5 * (a - d) / (a - 2 * b + d)) / c.rate.value());
  }
  return found;
}

TEST(SimulatedTruth, RPeaksAreTheLocalMaximaOfTheNoiselessEcgWithinAMillisecond) {
  for (const double bpm : {45.0, 60.0, 120.0, 180.0}) {
    Scenario s = quiet(60, 1000);
    s.heart.resting = 40_bpm;
    s.phases[0].target = BeatsPerMinute{bpm};
    const Simulation sim = simulate(s);
    const std::vector<double> peaks = maxima(sim.recording.channels[0], 0.7);
    const std::vector<Beat> truth = sim.truth.ecg_train(s.rate).candidates;
    ASSERT_NEAR(static_cast<double>(truth.size()), bpm, 4) << bpm;
    ASSERT_NEAR(static_cast<double>(peaks.size()), static_cast<double>(truth.size()), 1) << bpm;
    for (const double peak : peaks) {
      const auto nearest = std::min_element(truth.begin(), truth.end(), [peak](const Beat& a, const Beat& b) {
        return std::abs(a.time.value() - peak) < std::abs(b.time.value() - peak);
      });
      EXPECT_NEAR(nearest->time.value(), peak, 0.001) << bpm;
    }
  }
}

TEST(SimulatedTruth, SystolicPeaksAreTheLocalMaximaOfTheNoiselessPulseWithinAMillisecond) {
  for (const double bpm : {45.0, 60.0, 120.0, 180.0}) {
    Scenario s = quiet(60, 1000);
    s.heart.resting = 40_bpm;
    s.phases[0].target = BeatsPerMinute{bpm};
    const Simulation sim = simulate(s);
    const std::vector<double> peaks = maxima(sim.recording.channels[1], 0);
    const std::vector<Beat> truth = sim.truth.pulse_train(s.rate).candidates;
    ASSERT_GT(truth.size(), 40U);
    for (const Beat& beat : truth) {
      if (beat.time < 0.01_s || beat.time > 59.99_s) continue;
      const auto nearest = std::min_element(peaks.begin(), peaks.end(), [&](double a, double b) {
        return std::abs(a - beat.time.value()) < std::abs(b - beat.time.value());
      });
      EXPECT_NEAR(*nearest, beat.time.value(), 0.001) << bpm;
    }
  }
}

}  // namespace
}  // namespace pulsewright
