#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "scenes.hpp"

namespace pulsewright {
namespace {

using namespace literals;
using namespace test;

constexpr double pi = std::numbers::pi;

// McSharry et al. 2003, IEEE TBME 50:289, table 1.
constexpr std::array<double, 5> angle{-pi / 3, -pi / 12, 0, pi / 12, pi / 2};
constexpr std::array<double, 5> a{1.2, -5, 30, -7.5, 0.75};
constexpr std::array<double, 5> b{0.25, 0.1, 0.1, 0.1, 0.4};

Scenario metronome(double bpm, double seconds, double rate_hz) {
  Scenario s = quiet(seconds, rate_hz);
  s.phases[0].target = BeatsPerMinute{bpm};
  s.heart.resting = 40_bpm;
  s.heart.resting_sdnn_ms = 0;
  s.ecg->breathing_depth = 0;
  return s;
}

/// The paper's equation of motion z' = -sum a dtheta exp(-dtheta^2 / 2 b^2) - (z - z0), theta' = 2 pi / s, z0 = 0, by Runge and Kutta's
/// fourth-order method; `theta0` at time 0, one value a sample.
std::vector<double> equation_of_motion(double theta0, std::size_t count, double rate_hz) {
  const auto slope = [&](double t, double z) {
    double sum = -z;
    for (std::size_t i = 0; i < a.size(); ++i) {
      const double d = std::remainder(theta0 + 2 * pi * t - angle[i], 2 * pi);
      sum -= a[i] * d * std::exp(-0.5 * d * d / (b[i] * b[i]));
    }
    return sum;
  };
  constexpr int per_sample = 4;
  const double h = 1.0 / (rate_hz * per_sample);
  std::vector<double> values;
  double z = 0;
  for (std::size_t i = 0; i < count * per_sample; ++i) {
    const double t = h * static_cast<double>(i);
    if (i % per_sample == 0) values.push_back(z);
    const double k1 = slope(t, z);
    const double k2 = slope(t + h / 2, z + h / 2 * k1);
    const double k3 = slope(t + h / 2, z + h / 2 * k2);
    const double k4 = slope(t + h, z + h * k3);
    z += h / 6 * (k1 + 2 * k2 + 2 * k3 + k4);
  }
  return values;
}

TEST(SimulatedEcg, IsTheWaveOfMcSharrysEquationOfMotionAtSixtyBeatsAMinute) {
  const Scenario s = metronome(60, 12, 500);
  const Simulation sim = simulate(s);
  const Channel& ecg = sim.recording.channels[0];
  const double theta0 = -2 * pi * sim.truth.ecg_train(s.rate).candidates.front().time.value();
  const std::vector<double> z = equation_of_motion(theta0, ecg.samples.size(), s.rate.value());

  // Over the last six beats, when the equation has settled: the correlation of the two.
  std::vector<double> x;
  std::vector<double> y;
  for (std::size_t i = ecg.samples.size() / 2; i < ecg.samples.size(); ++i) {
    x.push_back(static_cast<double>(ecg.samples[i]));
    y.push_back(z[i]);
  }
  double covariance = 0;
  for (std::size_t i = 0; i < x.size(); ++i) covariance += (x[i] - mean(x)) * (y[i] - mean(y));
  const double r = covariance / static_cast<double>(x.size()) / std::sqrt(variance(x) * variance(y));
  EXPECT_GT(r, 0.995);  // what is left is the pull back to the baseline, which the closed form leaves out
}

TEST(SimulatedEcg, IsTheSumOfBellsThatTheEquationIntegratesTo) {
  const Scenario s = metronome(60, 10, 250);
  const Simulation sim = simulate(s);
  const Channel& ecg = sim.recording.channels[0];
  // The sum's maximum lies a little before the angle 0 because S is deeper than Q: by Newton's step from 0.
  double slope = 0;
  double bend = 0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    const double area = a[i] * b[i] * b[i];
    const double bell = area * std::exp(-0.5 * angle[i] * angle[i] / (b[i] * b[i]));
    slope += bell * angle[i] / (b[i] * b[i]);
    bend += bell * (angle[i] * angle[i] / std::pow(b[i], 4) - 1 / (b[i] * b[i]));
  }
  const double r_angle = -slope / bend;
  const double first = sim.truth.ecg_train(s.rate).candidates.front().time.value();
  for (std::size_t k = 250; k < ecg.samples.size() - 250; ++k) {
    const double theta = 2 * pi * (static_cast<double>(k) / 250.0 - first) + r_angle;
    double expected = 0;
    for (std::size_t i = 0; i < a.size(); ++i) {
      for (int turn = -1; turn <= 1; ++turn) {
        const double d = std::remainder(theta - angle[i], 2 * pi) + 2 * pi * turn;
        expected += a[i] * b[i] * b[i] / 0.3 * std::exp(-0.5 * d * d / (b[i] * b[i]));
      }
    }
    ASSERT_NEAR(static_cast<double>(ecg.samples[k]), expected, 2e-4) << k;
  }
}

/// Time from the R peak to the highest sample in [from, to] after it, of the second beat.
double wave_after_r(const Simulation& sim, double from, double to) {
  const Channel& ecg = sim.recording.channels[0];
  const double r = sim.truth.ecg_train(ecg.rate).candidates[2].time.value();
  double best = 0;
  float highest = -1e9F;
  for (double t = r + from; t < r + to; t += 0.0005) {
    const float v = ecg.samples[static_cast<std::size_t>(ecg.sample_at(Seconds{t}).value())];
    if (v > highest) {
      highest = v;
      best = t - r;
    }
  }
  return best;
}

TEST(SimulatedEcg, TheTWaveMovesWithTheRootOfTheIntervalAndThePWaveLess) {
  const Simulation slow = simulate(metronome(60, 10, 2000));
  EXPECT_NEAR(wave_after_r(slow, 0.15, 0.40), 0.250, 0.003);
  EXPECT_NEAR(wave_after_r(slow, -0.25, -0.10), -0.167, 0.003);
  const Simulation quick = simulate(metronome(120, 10, 2000));
  EXPECT_NEAR(wave_after_r(quick, 0.10, 0.24), 0.250 * std::sqrt(0.5), 0.006);
  EXPECT_NEAR(wave_after_r(quick, -0.22, -0.09), -0.167 * std::pow(0.5, 0.25), 0.012);
}

TEST(SimulatedEcg, TheRWaveIsAsHighAsAsked) {
  Scenario s = metronome(60, 10, 1000);
  s.ecg->r_mv = 1.7;
  const Simulation sim = simulate(s);
  const Channel& ecg = sim.recording.channels[0];
  // Q and S, pi/12 away, take (5 + 7.5) / 30 of their common bell e^(-(pi/12)^2 / 0.02) off it.
  const double overlap = 12.5 / 30 * std::exp(-(pi / 12) * (pi / 12) / 0.02);
  EXPECT_NEAR(*std::max_element(ecg.samples.begin(), ecg.samples.end()), 1.7 * (1 - overlap), 0.001);
}

TEST(SimulatedEcg, VentricularBeatsAreWideAndTheirTWaveIsInverted) {
  Scenario s = metronome(60, 60, 1000);
  s.heart.early.ventricular_every = 4;
  const Simulation sim = simulate(s);
  const Channel& ecg = sim.recording.channels[0];
  const auto width_at_half = [&](double t) {
    const auto peak = ecg.sample_at(Seconds{t}).value();
    const auto half = 0.5F * ecg.samples[static_cast<std::size_t>(peak)];
    std::int64_t left = peak;
    std::int64_t right = peak;
    while (ecg.samples[static_cast<std::size_t>(left)] > half) --left;
    while (ecg.samples[static_cast<std::size_t>(right)] > half) ++right;
    return static_cast<double>(right - left) / 1000.0;
  };
  int seen = 0;
  for (const Beat& beat : sim.truth.ecg_train(s.rate).candidates) {
    const double t = beat.time.value();
    if (t < 1 || t > 58) continue;
    const auto t_wave =
        static_cast<double>(ecg.samples[static_cast<std::size_t>(ecg.sample_at(Seconds{t + 0.27}).value())]);
    if (beat.label == BeatLabel::ventricular) {
      ++seen;
      EXPECT_GT(width_at_half(t), 0.055);
      EXPECT_LT(t_wave, -0.2);
    } else {
      EXPECT_LT(width_at_half(t), 0.040);
      EXPECT_GT(t_wave, 0.2);
    }
  }
  EXPECT_GT(seen, 10);
}

}  // namespace
}  // namespace pulsewright
