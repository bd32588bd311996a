#include "pulsewright/interval_spectrum.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "made_series.hpp"
#include "pulsewright/variability.hpp"

namespace pulsewright {
namespace {

const BandPowers& powers_by(const Variability& v, SpectrumMethod method) {
  return v.spectra.at(static_cast<std::size_t>(method));
}

double mean_square(const std::vector<double>& values) {
  double mean = 0.0, sum = 0.0;
  for (const double v : values) mean += v / static_cast<double>(values.size());
  for (const double v : values) sum += (v - mean) * (v - mean);
  return sum / static_cast<double>(values.size());
}

TEST(IntervalSpectrum, ASinusoidHasHalfItsSquaredAmplitudeInItsBandByEveryMethod) {
  // Closed form: A^2 / 2. Welch's window and the splines cost it a part in a hundred.
  for (const double hz : {0.02, 0.1, 0.25}) {
    const double amplitude = 20.0;
    std::vector<double> values = swinging(900, amplitude, hz, 1200);
    const std::vector<double> noise = white_noise(values.size(), 5);
    for (std::size_t i = 0; i < values.size(); ++i) values[i] += 0.3 * noise[i];
    const Variability v = variability(normal_intervals(values));
    for (const BandPowers& powers : v.spectra) {
      const double in_band = hz < 0.04   ? *powers.vlf_power_ms2
                             : hz < 0.15 ? *powers.lf_power_ms2
                                         : *powers.hf_power_ms2;
      const std::optional<double> at = hz < 0.04   ? powers.vlf_peak_hz
                                       : hz < 0.15 ? powers.lf_peak_hz
                                                   : powers.hf_peak_hz;
      const double expected = 0.5 * amplitude * amplitude;
      EXPECT_NEAR(in_band, expected, 0.03 * expected) << to_string(powers.method) << hz;
      EXPECT_NEAR(at.value(), hz, 0.0015) << to_string(powers.method) << hz;
      EXPECT_NEAR(powers.total_power_ms2.value(), expected, 0.03 * expected) << to_string(powers.method) << hz;
    }
  }
}

TEST(IntervalSpectrum, TheDensityThatIsKeptHoldsThePowersOfThePrincipalMethod) {
  const Intervals swing = normal_intervals(swinging(900.0, 40.0, 0.25, 500));
  for (const SpectrumMethod method :
       {SpectrumMethod::welch, SpectrumMethod::burg, SpectrumMethod::covariance, SpectrumMethod::lomb_scargle}) {
    VariabilityOptions options;
    options.spectrum.principal = method;
    const Variability result = variability(swing, options);
    const Band hf = result.hf_band;
    // A model's line is narrower than the grid that it is looked at on.
    if (method == SpectrumMethod::welch || method == SpectrumMethod::lomb_scargle) {
      EXPECT_DOUBLE_EQ(result.density.power_ms2(hf.low, hf.high), *result.power.hf_power_ms2) << to_string(method);
    }
    EXPECT_NEAR(result.density.peak(hf.low, hf.high)->value(), *result.power.hf_peak_hz, 0.001) << to_string(method);
  }
  EXPECT_TRUE(variability(normal_intervals({800.0, 810.0, 790.0})).density.density_ms2_per_hz.empty());
}

TEST(IntervalSpectrum, AllPowerTogetherIsTheVariance) {
  std::vector<double> values = swinging(850, 25, 0.1, 2000);
  const std::vector<double> noise = white_noise(values.size(), 9);
  for (std::size_t i = 0; i < values.size(); ++i) values[i] += 12.0 * noise[i];
  const Variability v = variability(normal_intervals(values));
  EXPECT_NEAR(powers_by(v, SpectrumMethod::burg).parseval_percent.value(), 100.0, 1e-4);  // by construction
  EXPECT_NEAR(powers_by(v, SpectrumMethod::covariance).parseval_percent.value(), 100.0, 1.0);
  EXPECT_NEAR(powers_by(v, SpectrumMethod::welch).parseval_percent.value(), 100.0, 2.0);
  EXPECT_NEAR(powers_by(v, SpectrumMethod::lomb_scargle).parseval_percent.value(), 100.0, 2.0);
}

TEST(IntervalSpectrum, WelchKeepsParsevalExactlyInASegment) {
  EvenStretch stretch;
  stretch.ms = white_noise(400, 3);
  const std::vector<EvenStretch> one{stretch};
  const PowerDensity spectrum = welch_spectrum(one, {Seconds{100.0}, 0.0});
  // The mean square of the windowed segment over that of the window, by hand.
  double mean = 0.0, squares = 0.0, window = 0.0;
  for (const double v : stretch.ms) mean += v / 400.0;
  for (std::size_t i = 0; i < 400; ++i) {
    const double w = 0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * static_cast<double>(i) / 400.0);
    squares += std::pow(w * (stretch.ms[i] - mean), 2.0);
    window += w * w;
  }
  EXPECT_NEAR(spectrum.power_ms2(Hertz{0.0}, Hertz{9.0}), squares / window, 1e-10 * squares);
}

TEST(IntervalSpectrum, LombScargleOfEvenBeatsHasTheVarianceAsItsTotal) {
  // Natural frequencies k / length: with as many beats as steps the periodogram is that of the discrete transform.
  TimedIntervals even;
  const std::vector<double> noise = white_noise(501, 21);
  for (std::size_t i = 0; i < noise.size(); ++i) {
    even.time_s.push_back(0.8 * static_cast<double>(i));
    even.ms.push_back(noise[i]);
  }
  EXPECT_NEAR(lomb_scargle_spectrum(even, 1.0).power_ms2(Hertz{0.0}, Hertz{9.0}), mean_square(noise), 1e-9);
}

TEST(IntervalSpectrum, LombScargleDoesWithoutTheBeatsThatAreMissing) {
  TimedIntervals all = timed(swinging(900, 20, 0.1, 600)), some;
  for (std::size_t i = 0; i < all.ms.size(); ++i)
    if (i % 7 != 3 && (i < 200 || i > 230)) {
      some.time_s.push_back(all.time_s[i]);
      some.ms.push_back(all.ms[i]);
    }
  const PowerDensity spectrum = lomb_scargle_spectrum(some);
  EXPECT_NEAR(spectrum.power_ms2(Hertz{0.09}, Hertz{0.11}), 200.0, 20.0);
  EXPECT_NEAR(spectrum.peak(Hertz{0.04}, Hertz{0.15}).value().value(), 0.1, 0.0005);
}

TEST(IntervalSpectrum, TheTrendIsAsSteepAFilterAsItsFormulaSays) {
  // Gain of what is left: L / (1 + L), L = lambda^2 (2 - 2 cos w)^2, from the definition (Tarvainen et al. 2002); about half at 0.028 Hz.
  for (const double hz : {0.01, 0.0285, 0.05, 0.1}) {
    std::vector<double> wave;
    const double w = 2.0 * std::numbers::pi * hz / 4.0;
    for (int i = 0; i < 4000; ++i) wave.push_back(std::sin(w * i));
    const std::vector<double> trend = smooth_trend(wave, 500.0);
    double left = 0.0, whole = 0.0;
    for (std::size_t i = 1000; i < 3000; ++i) {
      left += (wave[i] - trend[i]) * wave[i];
      whole += wave[i] * wave[i];
    }
    const double bend = 500.0 * (2.0 - 2.0 * std::cos(w));
    EXPECT_NEAR(left / whole, bend * bend / (1.0 + bend * bend), 2e-3) << hz;
  }
}

TEST(IntervalSpectrum, AStraightLineIsAllTrend) {
  std::vector<double> line;
  for (int i = 0; i < 200; ++i) line.push_back(700.0 + 0.5 * i);
  const std::vector<double> trend = smooth_trend(line, 500.0);
  for (std::size_t i = 0; i < line.size(); ++i) EXPECT_NEAR(trend[i], line[i], 1e-7);
  EXPECT_EQ(smooth_trend(std::vector<double>{5.0, 7.0}, 500.0), (std::vector<double>{5.0, 7.0}));
  EXPECT_TRUE(smooth_trend(std::vector<double>{}, 500.0).empty());
  EXPECT_THROW((void)smooth_trend(line, -1.0), Error);
}

TEST(IntervalSpectrum, AModelOfTwoPolesHasItsPowerInClosedForm) {
  // x[n] = a1 x[n-1] + a2 x[n-2] + e: variance (1 - a2) s / ((1 + a2) ((1 - a2)^2 - a1^2)), from the Yule-Walker equations.
  const double a1 = 1.2, a2 = -0.8, s = 4.0;
  const double expected = (1 - a2) * s / ((1 + a2) * ((1 - a2) * (1 - a2) - a1 * a1));
  const AutoregressiveModel model{std::vector<double>{a1, a2}, s, Hertz{2.0}};
  EXPECT_NEAR(model.power_ms2(Hertz{0.0}, Hertz{1.0}), expected, 1e-9 * expected);
  // The peak of the density is at cos w = -a1 (1 - a2) / (4 a2).
  const double peak = std::acos(-a1 * (1 - a2) / (4 * a2)) / std::numbers::pi;
  EXPECT_NEAR(model.peak(Hertz{0.0}, Hertz{1.0}).value().value(), peak, 1e-5);
  // Powers of neighbouring bands add up, and agree with a sum over the density.
  double sum = 0.0;
  for (int k = 0; k < 100000; ++k) sum += model.density_ms2_per_hz(Hertz{0.2 + (k + 0.5) * 3e-6}) * 3e-6;
  EXPECT_NEAR(model.power_ms2(Hertz{0.2}, Hertz{0.5}), sum, 1e-6 * sum);
}

TEST(IntervalSpectrum, PolesOutsideTheCircleAreMirroredWithoutChangingTheSpectrum) {
  // 1 / |1 - 2 / z|^2 = 1 / (4 |1 - 0.5 / z|^2).
  const AutoregressiveModel outside{std::vector<double>{2.0}, 4.0, Hertz{2.0}};
  EXPECT_NEAR(outside.coefficients()[0], 0.5, 1e-12);
  EXPECT_NEAR(outside.noise_variance(), 1.0, 1e-12);
}

TEST(IntervalSpectrum, TheOrderThatMadeTheSeriesIsFound) {
  EvenStretch series;
  series.rate = Hertz{2.0};
  const std::vector<double> noise = white_noise(5000, 77);
  for (std::size_t i = 0; i < noise.size(); ++i) {
    const double before = i > 0 ? series.ms[i - 1] : 0.0, earlier = i > 1 ? series.ms[i - 2] : 0.0;
    series.ms.push_back(1.2 * before - 0.8 * earlier + noise[i]);
  }
  AutoregressiveOptions options;
  options.criterion = OrderCriterion::description_length;  // consistent; Akaike's may take a few more
  EXPECT_EQ(burg_model(series, options).order(), 2);
  EXPECT_EQ(covariance_model(series, options).order(), 2);
  EXPECT_NEAR(burg_model(series, options).coefficients()[0], 1.2, 0.03);
  EXPECT_NEAR(covariance_model(series, options).coefficients()[1], -0.8, 0.03);
  for (const OrderCriterion criterion : {OrderCriterion::akaike, OrderCriterion::prediction_error}) {
    options.criterion = criterion;
    EXPECT_GE(burg_model(series, options).order(), 2);
  }
}

TEST(IntervalSpectrum, TheHighBandFollowsBreathingInExercise) {
  // 48 breaths and 150 beats a minute: breathing at 0.8 Hz lies outside the fixed band.
  std::vector<double> values = swinging(400, 10, 0.8, 1500);
  VariabilityOptions options;
  const Variability fixed = variability(normal_intervals(values), options);
  options.spectrum.high_band = HighBand::round_breathing;
  const Variability following = variability(normal_intervals(values), options);
  EXPECT_LT(fixed.power.hf_power_ms2.value(), 3.0);
  EXPECT_NEAR(following.breathing.value().value(), 0.8, 0.01);
  EXPECT_NEAR(following.hf_band.low.value(), 0.7, 0.01);
  EXPECT_NEAR(following.hf_band.high.value(), 0.9, 0.01);
  // A spline through beats at 2.5 Hz keeps most of a wave at 0.8 Hz; Lomb-Scargle needs none.
  EXPECT_NEAR(following.spectra[3].hf_power_ms2.value(), 50.0, 2.0);
  EXPECT_NEAR(following.power.hf_power_ms2.value(), 50.0, 6.0);
  options.spectrum.breathing = Hertz{0.3};
  EXPECT_NEAR(variability(normal_intervals(values), options).hf_band.low.value(), 0.2, 1e-12);
}

TEST(IntervalSpectrum, ATrendThatIsRemovedTakesItsBandAlong) {
  std::vector<double> values = swinging(850, 25, 0.1, 1000);
  for (std::size_t i = 0; i < values.size(); ++i) values[i] -= 0.1 * static_cast<double>(i);
  VariabilityOptions options;
  options.spectrum.trend_lambda = 500.0;
  const Variability v = variability(normal_intervals(values), options);
  EXPECT_FALSE(v.power.vlf_power_ms2);
  EXPECT_TRUE(v.spectra[3].vlf_power_ms2);  // Lomb-Scargle has no grid to remove it on
  EXPECT_NEAR(v.power.lf_power_ms2.value(), 312.5, 10.0);
}

TEST(IntervalSpectrum, AHoleDividesTheGridAndNothingIsMadeUpInside) {
  Intervals intervals = normal_intervals(swinging(900, 20, 0.1, 600));
  for (std::size_t i = 300; i < 340; ++i) {
    intervals.intervals[i].verdict = IntervalVerdict::gap;
    intervals.intervals[i].corrected_ms.reset();
  }
  const auto stretches = on_even_grid(normal_series(intervals));
  ASSERT_EQ(stretches.size(), 2u);
  EXPECT_NEAR(stretches[1].start.value(), intervals.intervals[340].end.value(), 1e-9);
  EXPECT_TRUE(on_even_grid({}).empty());
}

TEST(IntervalSpectrum, InputsThatCannotBeTransformedAreRefused) {
  EvenStretch stretch;
  stretch.ms = {1, 2, 3};
  const std::vector<EvenStretch> few{stretch};
  EXPECT_THROW((void)welch_spectrum(few), Error);
  EXPECT_THROW((void)welch_spectrum({}), Error);
  EXPECT_THROW((void)burg_model(stretch), Error);
  EXPECT_THROW((void)covariance_model(stretch), Error);
  EXPECT_THROW((void)lomb_scargle_spectrum({{0, 1, 2}, {1, 2, 3}}), Error);
  EXPECT_THROW((void)lomb_scargle_spectrum({{0, 1, 1, 2}, {1, 2, 3, 4}}), Error);
  EXPECT_EQ(PowerDensity{}.power_ms2(Hertz{0.0}, Hertz{1.0}), 0.0);
  EXPECT_FALSE(PowerDensity{}.peak(Hertz{0.0}, Hertz{1.0}));
}

}  // namespace
}  // namespace pulsewright
