#include <gtest/gtest.h>

#include <cmath>
#include <complex>
#include <numbers>

#include "scenes.hpp"

namespace pulsewright {
namespace {

using namespace literals;
using namespace test;

/// The heart only: no samples to speak of.
Scenario heart_only(std::vector<WorkPhase> phases) {
  Scenario s = quiet(1, 1);
  s.phases = std::move(phases);
  s.pulse.reset();
  return s;
}

TEST(SimulatedHeart, BeatsAsOftenAsTheRateCourseSays) {
  for (const double bpm : {66.0, 100.0, 150.0, 200.0}) {
    const Simulation sim = simulate(heart_only({{.name = "held", .duration = 600_s, .target = BeatsPerMinute{bpm}}}));
    const double beats = static_cast<double>(sim.truth.ecg_train(1_hz).candidates.size());
    // The modulation has no mean; over 600 s its lowest line (about 0.07 Hz) leaves less than a beat.
    EXPECT_NEAR(beats / 10.0, bpm, 0.3) << bpm;
    for (const CoursePoint& point : sim.truth.course) EXPECT_NEAR(point.rate.value(), bpm, 1e-9);
  }
}

TEST(SimulatedHeart, WorkloadIsAFractionOfReserve) {
  Scenario s = heart_only({{.name = "work", .duration = 60_s, .workload = 0.6}});
  s.heart.resting = 66_bpm;
  s.heart.maximum = 205_bpm;
  const Simulation sim = simulate(s);
  EXPECT_NEAR(sim.truth.course.front().rate.value(), 149.4, 1e-9);  // 66 + 0.6 (205 - 66)
  EXPECT_NEAR(sim.truth.course.front().reserve, 0.6, 1e-9);
}

/// Time constant of A + B exp(-t / tau) that fits the beat-to-beat rates over [from, to] best.
double fitted_time_constant(const Truth& truth, double from, double to) {
  std::vector<double> t;
  std::vector<double> y;
  const TrueIntervals all = intervals_of(truth);
  for (std::size_t i = 0; i < all.length_s.size(); ++i) {
    const double middle = all.end_s[i] - 0.5 * all.length_s[i];
    if (middle < from || middle >= to) continue;
    t.push_back(middle - from);
    y.push_back(60.0 / all.length_s[i]);
  }
  double best = 0;
  double least = 1e300;
  for (double tau = 5; tau < 150; tau += 0.1) {
    double sx = 0;
    double sy = 0;
    double sxx = 0;
    double sxy = 0;
    double syy = 0;
    const auto n = static_cast<double>(t.size());
    for (std::size_t i = 0; i < t.size(); ++i) {
      const double x = std::exp(-t[i] / tau);
      sx += x;
      sy += y[i];
      sxx += x * x;
      sxy += x * y[i];
      syy += y[i] * y[i];
    }
    const double slope = (n * sxy - sx * sy) / (n * sxx - sx * sx);
    const double intercept = (sy - slope * sx) / n;
    const double rest = syy - intercept * sy - slope * sxy;
    if (rest < least) {
      least = rest;
      best = tau;
    }
  }
  return best;
}

TEST(SimulatedHeart, TimeConstantsOfTheRiseAndTheFallCanBeRecoveredFromTheBeatsWithinTenPercent) {
  Scenario s = heart_only({{.name = "rest", .duration = 60_s},
                           {.name = "work", .duration = 180_s, .workload = 0.7},
                           {.name = "recovery", .duration = 300_s}});
  s.heart.rise = 25_s;
  s.heart.fall = 55_s;
  s.heart.resting_sdnn_ms = 30;
  const Truth truth = simulate(s).truth;
  EXPECT_NEAR(fitted_time_constant(truth, 60, 240), 25, 2.5);
  EXPECT_NEAR(fitted_time_constant(truth, 240, 540), 55, 5.5);
}

TEST(SimulatedHeart, DriftsUpwardsUnderASteadyWorkload) {
  Scenario s = heart_only({{.name = "work", .duration = 1200_s, .workload = 0.5}});
  s.heart.drift = 10_bpm;
  const Truth truth = simulate(s).truth;
  // Half of the drift at half the workload, approached with a time constant of 600 s.
  const double start = truth.course.front().rate.value();
  EXPECT_NEAR(truth.course[600].rate.value() - start, 5.0 * (1 - std::exp(-1.0)), 0.05);
  EXPECT_NEAR(truth.course[1200].rate.value() - start, 5.0 * (1 - std::exp(-2.0)), 0.05);
}

TEST(SimulatedHeart, NeverGoesBeyondItsMaximum) {
  Scenario s = heart_only({{.name = "all out", .duration = 600_s, .workload = 1.0}});
  s.heart.drift = 20_bpm;
  for (const CoursePoint& point : simulate(s).truth.course) EXPECT_LE(point.rate, s.heart.maximum);
}

/// Power of the interval series (ms^2 a line) at frequency f, by the Fourier sum over the unevenly spaced beats.
double power_at(const TrueIntervals& intervals, double f) {
  const double middle = mean(intervals.length_s);
  std::complex<double> sum;
  double span = 0;
  for (std::size_t i = 0; i < intervals.length_s.size(); ++i) {
    const double x = 1000.0 * (intervals.length_s[i] - middle);
    const double t = intervals.end_s[i] - 0.5 * intervals.length_s[i];
    // Hann window, so that one band does not leak into the other.
    const double share = (t - intervals.end_s.front()) / (intervals.end_s.back() - intervals.end_s.front());
    const double hann = 1.0 - std::cos(2.0 * std::numbers::pi * share);
    sum += hann * x * intervals.length_s[i] * std::polar(1.0, -2.0 * std::numbers::pi * f * t);
    span += intervals.length_s[i];
  }
  return std::norm(sum) / (span * span);
}

struct Band {
  double power = 0;
  double centroid_hz = 0;
};

Band band(const TrueIntervals& intervals, double low_hz, double high_hz, double step_hz) {
  Band b;
  double moment = 0;
  for (double f = low_hz; f < high_hz; f += step_hz) {
    const double p = power_at(intervals, f);
    b.power += p;
    moment += p * f;
  }
  b.centroid_hz = moment / b.power;
  return b;
}

// McSharry et al. 2003, IEEE TBME 50:289: Gaussians at 0.1 and 0.25 Hz, SD 0.01 Hz, LF/HF 0.5. Bands of the Task Force 1996.
TEST(SimulatedHeart, RestingIntervalsHaveTheSpectrumOfMcSharry) {
  for (const std::uint64_t seed : {1U, 2U, 3U}) {
    Scenario s = heart_only({{.name = "rest", .duration = 1200_s}});
    s.seed = seed;
    s.heart.resting = 60_bpm;
    const TrueIntervals intervals = intervals_of(simulate(s).truth);
    const Band low = band(intervals, 0.04, 0.15, 1.0 / 1200);
    const Band high = band(intervals, 0.15, 0.40, 1.0 / 1200);
    EXPECT_NEAR(low.centroid_hz, 0.10, 0.005);
    EXPECT_NEAR(high.centroid_hz, 0.25, 0.005);
    EXPECT_NEAR(low.power / high.power, 0.5, 0.1);
    EXPECT_NEAR(1000 * std::sqrt(variance(intervals.length_s)), 50, 4);  // Nunan et al. 2010: 50 +- 16 ms
    // All of the power lies within 3 SD of the two centres.
    const double total = band(intervals, 0.005, 0.5, 1.0 / 1200).power;
    const double near =
        band(intervals, 0.065, 0.135, 1.0 / 1200).power + band(intervals, 0.215, 0.285, 1.0 / 1200).power;
    EXPECT_GT(near / total, 0.95);
  }
}

TEST(SimulatedHeart, VariabilityFadesAsIntensityRises) {
  double last = 1e9;
  for (const double workload : {0.0, 0.3, 0.6, 0.9}) {
    const Simulation sim = simulate(heart_only({{.name = "held", .duration = 300_s, .workload = workload}}));
    const double sdnn_ms = 1000 * std::sqrt(variance(intervals_of(sim.truth).length_s));
    EXPECT_LT(sdnn_ms, 0.6 * last) << workload;
    last = sdnn_ms;
    if (workload == 0.6) {
      EXPECT_GT(sdnn_ms, 2.0);
      EXPECT_LT(sdnn_ms, 5.0);
    }
  }
}

TEST(SimulatedHeart, BreathesFasterAtWorkAndTheIntervalsFollow) {
  Scenario s = heart_only({{.name = "work", .duration = 600_s, .workload = 0.5}});
  const Truth truth = simulate(s).truth;
  EXPECT_NEAR(truth.course[300].breaths.value(), 0.50, 1e-6);  // half way from 0.25 to 0.75 Hz
  EXPECT_NEAR(band(intervals_of(truth), 0.4, 0.6, 1.0 / 600).centroid_hz, 0.50, 0.01);
}

TEST(SimulatedHeart, VentricularBeatsComeEarlyAndArePaidBackInFull) {
  Scenario s = heart_only({{.name = "rest", .duration = 600_s}});
  s.heart.resting_sdnn_ms = 0;
  s.heart.early.ventricular_per_minute = 4;
  const Truth truth = simulate(s).truth;
  int found = 0;
  for (std::size_t i = 1; i + 1 < truth.beats.size(); ++i) {
    if (truth.beats[i].label != BeatLabel::ventricular) continue;
    ++found;
    const double before = (truth.beats[i].time - truth.beats[i - 1].time).value();
    const double around = (truth.beats[i + 1].time - truth.beats[i - 1].time).value();
    EXPECT_NEAR(around, 2 * 60.0 / 66.0, 0.002);
    EXPECT_NEAR(before / (60.0 / 66.0), 0.65, 0.05);
    EXPECT_EQ(truth.beats[i + 1].label, BeatLabel::normal);
  }
  EXPECT_NEAR(found, 40, 20);  // Poisson with mean 40, three SD
}

TEST(SimulatedHeart, SupraventricularBeatsStartTheSinusNodeAgain) {
  Scenario s = heart_only({{.name = "rest", .duration = 600_s}});
  s.heart.resting_sdnn_ms = 0;
  s.heart.early.supraventricular_per_minute = 4;
  const Truth truth = simulate(s).truth;
  int found = 0;
  for (std::size_t i = 1; i + 1 < truth.beats.size(); ++i) {
    if (truth.beats[i].label != BeatLabel::supraventricular) continue;
    ++found;
    EXPECT_NEAR((truth.beats[i + 1].time - truth.beats[i].time).value(), 60.0 / 66.0, 0.002);
  }
  EXPECT_NEAR(found, 40, 20);
}

TEST(SimulatedHeart, BigeminyAlternates) {
  const Truth truth = simulate(stretched(named_scenario("bigeminy"), 60_s)).truth;
  for (std::size_t i = 2; i < truth.beats.size(); ++i) {
    EXPECT_NE(truth.beats[i].label, truth.beats[i - 1].label) << i;
    EXPECT_EQ(truth.beats[i].label, truth.beats[i - 2].label) << i;
  }
}

TEST(SimulatedHeart, NoEarlyBeatComesSoonerThanTheTissueCanFollow) {
  Scenario s = heart_only({{.name = "work", .duration = 300_s, .workload = 0.8}});
  s.heart.early.ventricular_per_minute = 20;
  const TrueIntervals intervals = intervals_of(simulate(s).truth);
  for (const double length : intervals.length_s) EXPECT_GT(length, 0.275);
}

}  // namespace
}  // namespace pulsewright
