#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <set>

#include "scenes.hpp"

namespace pulsewright {
namespace {

using namespace literals;
using namespace test;

std::vector<double> doubles(const std::vector<float>& values) { return {values.begin(), values.end()}; }

std::vector<double> difference(const Channel& a, const Channel& b) {
  std::vector<double> d = doubles(a.samples);
  for (std::size_t i = 0; i < d.size(); ++i) d[i] -= static_cast<double>(b.samples[i]);
  return d;
}

/// Amplitude of the sinusoid at `f`, over whole seconds.
double line(const std::vector<double>& values, double f, double rate_hz) {
  std::complex<double> sum;
  for (std::size_t i = 0; i < values.size(); ++i) {
    sum += values[i] * std::polar(1.0, -2 * std::numbers::pi * f * static_cast<double>(i) / rate_hz);
  }
  return 2 * std::abs(sum) / static_cast<double>(values.size());
}

TEST(SimulatedNoise, SignalToNoiseRatioIsAsAsked) {
  const Simulation clean = simulate(quiet());
  for (const double snr_db : {-6.0, 0.0, 10.0, 24.0}) {
    for (const Disturbance& mix : {Disturbance{}, Disturbance{.white = 1, .muscle = 3, .mains = 2, .baseline = 1}}) {
      Scenario s = quiet();
      s.ecg->disturbance = mix;
      s.pulse->disturbance = mix;
      s.ecg->disturbance.snr_db = s.pulse->disturbance.snr_db = snr_db;
      const Simulation noisy = simulate(s);
      for (std::size_t c = 0; c < 2; ++c) {
        const double signal = variance(doubles(clean.recording.channels[c].samples));
        const double noise = variance(difference(noisy.recording.channels[c], clean.recording.channels[c]));
        EXPECT_NEAR(10 * std::log10(signal / noise), snr_db, 0.05);
      }
    }
  }
}

TEST(SimulatedNoise, EachKindHasItsLevelAndItsPlaceInTheSpectrum) {
  constexpr double seconds = 60;
  const Simulation clean = simulate(quiet(seconds, 500));
  const auto noise = [&](const Disturbance& d) {
    Scenario s = quiet(seconds, 500);
    s.ecg->disturbance = d;
    return difference(simulate(s).recording.channels[0], clean.recording.channels[0]);
  };
  const auto rms = [](const std::vector<double>& v) { return std::sqrt(variance(v)); };
  /// Share of the power below `edge`, on a grid of 1/seconds Hz.
  const auto share_below = [&](const std::vector<double>& v, double edge) {
    double power = 0;
    for (double f = 1 / seconds; f < edge; f += 1 / seconds) power += 0.5 * std::pow(line(v, f, 500), 2);
    return power / variance(v);
  };

  const std::vector<double> white = noise({.white = 0.1});
  EXPECT_NEAR(rms(white), 0.1, 0.003);
  EXPECT_NEAR(share_below(white, 25), 0.1, 0.02);  // 25 of 250 Hz

  const std::vector<double> muscle = noise({.muscle = 0.1});
  EXPECT_NEAR(rms(muscle), 0.1, 0.001);
  EXPECT_LT(share_below(muscle, 10), 0.03);

  const std::vector<double> mains = noise({.mains = 0.1});
  EXPECT_NEAR(rms(mains), 0.1, 0.002);
  EXPECT_NEAR(line(mains, 50, 500), 0.1 * std::sqrt(2.0 / (1 + 0.15 * 0.15)), 1e-3);
  EXPECT_NEAR(line(mains, 150, 500) / line(mains, 50, 500), 0.15, 1e-3);
  EXPECT_NEAR(line(noise({.mains = 0.1, .mains_frequency = 60_hz}), 60, 500), 0.14, 0.002);

  const std::vector<double> baseline = noise({.baseline = 0.1});
  EXPECT_NEAR(rms(baseline), 0.1, 0.015);
  EXPECT_GT(share_below(baseline, 0.5), 0.98);
}

TEST(SimulatedNoise, IsIndependentOfTheOtherChannel) {
  Scenario s = quiet();
  s.ecg->disturbance.white = 0.1;
  const Simulation one = simulate(s);
  s.pulse->disturbance.white = 5;
  const Simulation both = simulate(s);
  EXPECT_EQ(one.recording.channels[0].samples, both.recording.channels[0].samples);
  EXPECT_NE(one.recording.channels[1].samples, both.recording.channels[1].samples);
}

TEST(SimulatedConverter, StoresWholeStepsAndNoMoreThanItsCodes) {
  for (const int bits : {1, 4, 8, 10, 12}) {
    Scenario s = quiet(30);
    s.ecg->converter = Converter{.bits = bits, .low = -0.5, .high = 1.5};
    s.ecg->disturbance.white = 0.02;
    const double step = s.ecg->converter->step();
    EXPECT_DOUBLE_EQ(step, 2.0 / std::pow(2.0, bits));
    const Simulation sim = simulate(s);
    ASSERT_EQ(sim.recording.channels[0].samples.size(), static_cast<std::size_t>(30 * s.rate.value()));
    std::set<float> levels;
    for (const float v : sim.recording.channels[0].samples) {
      const double code = (static_cast<double>(v) + 0.5) / step;
      ASSERT_EQ(code, std::round(code));
      ASSERT_GE(code, 0);
      ASSERT_LE(code, std::pow(2.0, bits) - 1);
      levels.insert(v);
    }
    EXPECT_LE(levels.size(), static_cast<std::size_t>(std::pow(2.0, bits)));
    if (bits <= 8) {
      EXPECT_GT(levels.size(), 0.6 * std::pow(2.0, bits)) << bits;  // the signal fills the range
    }
  }
}

TEST(SimulatedConverter, ClipsAtBothEnds) {
  Scenario s = quiet(30);
  s.ecg->converter = Converter{.bits = 10, .low = -0.1, .high = 0.5};
  const std::vector<float> samples = simulate(s).recording.channels[0].samples;
  const double top = 0.5 - s.ecg->converter->step();
  EXPECT_EQ(*std::min_element(samples.begin(), samples.end()), -0.1F);
  EXPECT_NEAR(*std::max_element(samples.begin(), samples.end()), top, 1e-6);
}

TEST(SimulatedConverter, IsWithinHalfAStepOfTheSignal) {
  Scenario s = quiet(30);
  const Simulation exact = simulate(s);
  s.pulse->converter = Converter{.bits = 10, .low = 0, .high = 1024};
  const Simulation stored = simulate(s);
  const std::vector<double> off = difference(stored.recording.channels[1], exact.recording.channels[1]);
  ASSERT_EQ(off.size(), stored.recording.channels[1].samples.size());
  ASSERT_GT(off.size(), 3000U);
  for (const double d : off) {
    ASSERT_LE(std::abs(d), 0.5001);
  }
}

TEST(SimulatedContact, IsLostWhereTheTruthSays) {
  Scenario s = quiet(60);
  s.ecg->disturbance.white = 0.01;  // no two samples are alike by chance
  s.pulse->disturbance.white = 1;
  s.contact.planned = {{{10_s, 12.5_s}, DropOutForm::gap, ChannelKind::pulse},
                       {{20_s, 22_s}, DropOutForm::flat, ChannelKind::pulse},
                       {{30_s, 31_s}, DropOutForm::gap, ChannelKind::ecg}};
  s.contact.losses_per_minute = 4;
  const Simulation sim = simulate(s);
  ASSERT_GE(sim.truth.drop_outs.size(), 3U);
  for (const Channel& c : sim.recording.channels) {
    for (std::size_t i = 1; i < c.samples.size(); ++i) {
      const Seconds t = c.time_of_sample(SampleIndex{static_cast<std::int64_t>(i)});
      bool gap = false;
      bool flat = false;
      for (const DropOut& lost : sim.truth.drop_outs) {
        if (lost.kind != c.kind || !lost.span.contains(t)) continue;
        (lost.form == DropOutForm::gap ? gap : flat) = true;
      }
      ASSERT_EQ(std::isnan(c.samples[i]), gap) << c.name << ' ' << t.value();
      if (!gap && !std::isnan(c.samples[i - 1])) {
        ASSERT_EQ(c.samples[i] == c.samples[i - 1], flat) << t.value();
      }
    }
  }
}

TEST(SimulatedContact, LossesComeAsOftenAndLastAsLongAsAsked) {
  Scenario s = quiet(3600, 4);
  s.contact.losses_per_minute = 2;
  s.contact.mean_loss = 5_s;
  const Truth truth = simulate(s).truth;
  double lost = 0;
  for (const DropOut& d : truth.drop_outs) lost += d.span.length().value();
  const auto count = static_cast<double>(truth.drop_outs.size());
  // Each loss starts 30 s on average after the end of the one before.
  EXPECT_NEAR(count, 3600.0 / 35, 30);
  EXPECT_NEAR(lost / count, 5, 1.6);  // three standard errors
}

TEST(SimulatedClock, AFastClockStretchesTheRecordingsTime) {
  Scenario s = quiet(600, 100);
  const Truth exact = simulate(s).truth;
  s.clock.error_ppm = 1000;
  const Truth fast = simulate(s).truth;
  for (std::size_t i = 0; i < fast.beats.size(); ++i) {
    EXPECT_NEAR(fast.beats[i].time.value(), exact.beats[i].time.value() * 1.001, 2e-6);
  }
}

TEST(SimulatedClock, BeatsOfTheTruthAreWhereAReaderOfTheFileSeesThem) {
  Scenario s = quiet(120, 1000);
  s.clock.error_ppm = 5000;
  const Simulation sim = simulate(s);
  const Channel& ecg = sim.recording.channels[0];
  int beats = 0;
  for (const Beat& beat : sim.truth.ecg_train(s.rate).candidates) {
    if (beat.time < 1_s || beat.time > 119_s) continue;
    const auto at = static_cast<std::size_t>(beat.sample.value());
    const auto peak = std::max_element(ecg.samples.begin() + static_cast<std::ptrdiff_t>(at) - 20,
                                       ecg.samples.begin() + static_cast<std::ptrdiff_t>(at) + 21);
    EXPECT_NEAR(static_cast<double>(peak - ecg.samples.begin()), static_cast<double>(at), 1);
    ++beats;
  }
  EXPECT_GT(beats, 100);
}

TEST(SimulatedClock, JitterMovesSamplesByTheAskedSpread) {
  Scenario s = quiet(60, 100);
  s.clock.jitter = 1_ms;
  s.clock.stamps = 0_s;
  const Simulation sim = simulate(s);
  const Channel& c = sim.recording.channels[0];
  std::vector<double> shift;
  for (std::size_t i = 0; i < c.times.size(); ++i) {
    if (i > 0) {
      ASSERT_GT(c.times[i], c.times[i - 1]);
    }
    shift.push_back(c.times[i] - static_cast<double>(i) / 100);
  }
  ASSERT_EQ(shift.size(), 6000U);
  EXPECT_NEAR(mean(shift), 0, 5e-5);
  EXPECT_NEAR(std::sqrt(variance(shift)), 0.001, 5e-5);
}

TEST(SimulatedClock, WithoutStampsTheFileClaimsAUniformClock) {
  Scenario s = quiet(10, 100);
  s.clock.jitter = 2_ms;
  const Simulation jittered = simulate(s);
  EXPECT_TRUE(jittered.recording.channels[0].times.empty());
  s.clock.jitter = 0_s;
  EXPECT_NE(jittered.recording.channels[0].samples, simulate(s).recording.channels[0].samples);
}

TEST(SimulatedClock, StampsAreRoundedToTheirStep) {
  Scenario s = quiet(10, 100);
  s.clock.jitter = 1_ms;
  s.clock.stamps = 1_ms;
  const Recording recording = simulate(s).recording;
  ASSERT_EQ(recording.channels[0].times.size(), 1000U);
  for (const double t : recording.channels[0].times) {
    EXPECT_NEAR(t * 1000, std::round(t * 1000), 1e-6);
  }
}

Scenario walk() {
  Scenario s = quiet();
  s.phases = {{.name = "standing", .duration = 60_s},
              {.name = "walking", .duration = 120_s, .workload = 0.3, .cadence = 2_hz}};
  s.motion = MotionSensor{.noise_g = 0, .converter = std::nullopt};
  return s;
}

TEST(SimulatedMovement, AccelerationShowsTheCadenceAndItsHarmonicsOnlyWhileMoving) {
  const Simulation sim = simulate(walk());
  const Channel& z = sim.recording.channels[4];
  const std::vector<double> still(z.samples.begin(), z.samples.begin() + 59 * 250);
  const std::vector<double> moving(z.samples.begin() + 70 * 250, z.samples.begin() + 170 * 250);
  EXPECT_EQ(variance(still), 0);
  EXPECT_NEAR(mean(still), 0.975, 0.001);  // gravity along z
  // The cadence wanders by 3 %, so power is summed over a band.
  const auto band = [&](double low, double high) {
    double sum = 0;
    for (double f = low; f < high; f += 0.01) sum += 0.5 * std::pow(line(moving, f, 250), 2);
    return sum;
  };
  EXPECT_GT(band(1.6, 2.4) / variance(moving), 0.6);
  EXPECT_GT(band(3.4, 4.6) / variance(moving), 0.05);
  double g = 0;
  for (std::size_t axis = 2; axis < 5; ++axis) g += std::pow(sim.recording.channels[axis].samples[100], 2);
  EXPECT_NEAR(std::sqrt(g), 1.0, 1e-4);
}

TEST(SimulatedMovement, ReachesThePulseInLooseSpellsOnlyAndFollowsTheAcceleration) {
  const Simulation with = simulate(walk());
  Scenario still = walk();
  still.pulse->movement_per_g = 0;
  const Simulation without = simulate(still);
  const std::vector<double> artefact = difference(with.recording.channels[1], without.recording.channels[1]);
  ASSERT_FALSE(with.truth.artefacts.empty());
  ASSERT_EQ(with.truth.moving.size(), 1U);
  EXPECT_EQ(with.truth.moving[0], (Span{60_s, 180_s}));
  std::vector<double> loose;
  for (std::size_t i = 0; i < artefact.size(); ++i) {
    const Seconds t{static_cast<double>(i) / 250};
    const bool inside = std::any_of(with.truth.artefacts.begin(), with.truth.artefacts.end(),
                                    [t](const Span& span) { return span.contains(t); });
    if (inside) {
      loose.push_back(artefact[i]);
    } else {
      ASSERT_EQ(artefact[i], 0) << t.value();
    }
  }
  EXPECT_GT(std::sqrt(variance(loose)), 5);

  // 0.04 s (10 samples) after the axes, weighted 0.6, -0.3, 1: in the middle of a long spell exactly so.
  const auto spell = std::max_element(with.truth.artefacts.begin(), with.truth.artefacts.end(),
                                      [](const Span& a, const Span& b) { return a.length() < b.length(); });
  const auto middle = static_cast<std::size_t>((0.5 * (spell->start + spell->end)).value() * 250);
  const auto& c = with.recording.channels;
  for (std::size_t i = middle - 100; i < middle + 100; ++i) {
    const double expected = 60 * (0.6 * (static_cast<double>(c[2].samples[i - 10]) - 0.20) -
                                  0.3 * (static_cast<double>(c[3].samples[i - 10]) + 0.10) +
                                  (static_cast<double>(c[4].samples[i - 10]) - 0.97468));
    ASSERT_NEAR(artefact[i], expected, 0.01);
  }
}

TEST(SimulatedMovement, WithoutTightSpellsTheArtefactLastsAsLongAsTheMovement) {
  Scenario s = walk();
  s.loosening.tight = 0_s;
  const Truth truth = simulate(s).truth;
  EXPECT_EQ(truth.artefacts, truth.moving);
}

TEST(SimulatedPulse, PolarityTurnsTheSignalRound) {
  Scenario s = quiet(30);
  const Simulation up = simulate(s);
  s.pulse->polarity = PulsePolarity::systole_down;
  const Simulation down = simulate(s);
  const double level = s.pulse->level;
  for (std::size_t i = 0; i < up.recording.channels[1].samples.size(); ++i) {
    ASSERT_NEAR(static_cast<double>(up.recording.channels[1].samples[i]) - level,
                level - static_cast<double>(down.recording.channels[1].samples[i]), 1e-3);
  }
}

TEST(SimulatedPulse, DelayFallsAsTheHeartWorksHarder) {
  Scenario s = quiet(120);
  const auto mean_delay = [&](double workload) {
    s.phases[0].workload = workload;
    std::vector<double> delays;
    for (const TrueBeat& beat : simulate(s).truth.beats) delays.push_back(beat.delay.value());
    return mean(delays);
  };
  const double rest = mean_delay(0);
  const double half = mean_delay(0.5);
  const double full = mean_delay(1);
  EXPECT_NEAR(rest, 0.30, 0.02);
  EXPECT_NEAR(full, 0.21, 0.02);
  EXPECT_NEAR(half, 0.5 * (rest + full), 0.01);
}

TEST(SimulatedPulse, EarlyBeatsGiveWeakPulses) {
  Scenario s = quiet(120);
  s.heart.early.ventricular_per_minute = 5;
  const Simulation sim = simulate(s);
  const Channel& pulse = sim.recording.channels[1];
  std::vector<double> early;
  std::vector<double> normal;
  for (const TrueBeat& beat : sim.truth.beats) {
    if (beat.pulse_time < 1_s || beat.pulse_time > 119_s) continue;
    const auto i = static_cast<std::size_t>(pulse.sample_at(beat.pulse_time).value());
    (beat.label == BeatLabel::ventricular ? early : normal).push_back(static_cast<double>(pulse.samples[i]));
  }
  ASSERT_GT(early.size(), 3U);
  ASSERT_GT(normal.size(), 60U);
  EXPECT_LT(mean(early), mean(normal) - 20);
}

}  // namespace
}  // namespace pulsewright
