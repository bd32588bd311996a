/// Spectra, trends, entropies and scaling against numpy and scipy; tests/golden/make_variability.py makes the values.
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <string>

#include "made_series.hpp"
#include "pulsewright/complexity.hpp"
#include "pulsewright/interval_spectrum.hpp"
#include "pulsewright/variability.hpp"

namespace pulsewright {
namespace {

using Json = nlohmann::json;

const Json& golden() {
  static const Json values = [] {
    std::ifstream file{std::string{PULSEWRIGHT_SOURCE_DIR} + "/tests/golden/variability.json"};
    return Json::parse(file);
  }();
  return values;
}

/// A list of golden values, of which there must be some: a loop over none would check nothing.
const Json& listed(const Json& values) {
  EXPECT_GE(values.size(), 3U);
  return values;
}

/// The series of make_variability.py.
std::vector<double> series(std::size_t count = golden()["count"].get<std::size_t>()) {
  std::vector<double> nn;
  std::uint32_t s = 7;
  for (std::size_t k = 0; k < count; ++k) {
    const auto i = static_cast<double>(k);
    s = 1664525u * s + 1013904223u;
    nn.push_back(820 + 35 * std::sin(0.55 * i) + 25 * std::sin(1.9 * i + 0.3) + 30 * (s / 4294967296.0 - 0.5));
  }
  return nn;
}

EvenStretch on_grid() { return on_even_grid(normal_series(normal_intervals(series()))).at(0); }

void expect_near_share(double value, double expected, double share) {
  EXPECT_NEAR(value, expected, share * std::abs(expected));
}

template <class Spectrum>
void expect_bands(const Spectrum& spectrum, const Json& bands, double share) {
  expect_near_share(spectrum.power_ms2(Hertz{0.003}, Hertz{0.04}), bands["vlf"], share);
  expect_near_share(spectrum.power_ms2(Hertz{0.04}, Hertz{0.15}), bands["lf"], share);
  expect_near_share(spectrum.power_ms2(Hertz{0.15}, Hertz{0.40}), bands["hf"], share);
}

TEST(VariabilityGolden, TheEvenGridIsANaturalCubicSpline) {
  const EvenStretch grid = on_grid();
  ASSERT_EQ(grid.ms.size(), golden()["even_grid"]["count"].get<std::size_t>());
  const Json& expected = listed(golden()["even_grid"]["every_97th"]);
  for (std::size_t k = 0; k < expected.size(); ++k) EXPECT_NEAR(grid.ms[97 * k], expected[k].get<double>(), 1e-8);
}

TEST(VariabilityGolden, TheSmoothTrendSolvesTheSparseSystem) {
  const std::vector<double> trend = smooth_trend(on_grid().ms, golden()["trend"]["lambda"]);
  const Json& expected = listed(golden()["trend"]["every_97th"]);
  ASSERT_GT(trend.size(), 97 * (expected.size() - 1));
  for (std::size_t k = 0; k < expected.size(); ++k) EXPECT_NEAR(trend[97 * k], expected[k].get<double>(), 1e-7);
}

TEST(VariabilityGolden, WelchIsThatOfScipy) {
  const std::vector<EvenStretch> grid{on_grid()};
  const PowerDensity spectrum = welch_spectrum(grid, {Seconds{golden()["welch"]["segment_s"].get<double>()}, 0.5});
  const Json& expected = listed(golden()["welch"]["every_7th"]);
  ASSERT_GT(spectrum.density_ms2_per_hz.size(), 7 * (expected.size() - 1));
  for (std::size_t k = 0; k < expected.size(); ++k)
    EXPECT_NEAR(spectrum.density_ms2_per_hz[7 * k], expected[k].get<double>(),
                1e-8 * std::max(1.0, expected[k].get<double>()));
  expect_bands(spectrum, golden()["welch"]["bands"], 1e-9);
}

TEST(VariabilityGolden, LombScargleIsTheDirectSumOverAllBeats) {
  const PowerDensity spectrum = lomb_scargle_spectrum(timed(series()));
  const Json& expected = listed(golden()["lomb_scargle"]["every_29th"]);
  ASSERT_GT(spectrum.density_ms2_per_hz.size(), 29 * (expected.size() - 1));
  for (std::size_t k = 0; k < expected.size(); ++k)
    EXPECT_NEAR(spectrum.density_ms2_per_hz[29 * k], expected[k].get<double>(),
                1e-7 * std::max(100.0, expected[k].get<double>()));
  expect_bands(spectrum, golden()["lomb_scargle"]["bands"], 1e-7);
}

TEST(VariabilityGolden, BurgAndCovarianceModelsAreThoseOfTheirDefinitions) {
  for (const char* method : {"burg", "covariance"}) {
    const Json& expected = golden()[method];
    AutoregressiveOptions options;
    options.order = expected["order"].get<int>();
    const AutoregressiveModel model =
        std::string{method} == "burg" ? burg_model(on_grid(), options) : covariance_model(on_grid(), options);
    ASSERT_EQ(model.coefficients().size(), listed(expected["coefficients"]).size());
    for (std::size_t k = 0; k < expected["coefficients"].size(); ++k)
      EXPECT_NEAR(model.coefficients()[k], expected["coefficients"][k].get<double>(), 1e-5) << method << k;
    expect_near_share(model.noise_variance(), expected["noise"], 1e-5);
    expect_bands(model, expected["bands"], 1e-4);
  }
}

TEST(VariabilityGolden, EntropiesAreThoseOfComparingEveryPair) {
  for (const std::size_t m : {1u, 2u, 3u}) {
    const Entropies e = entropies(series(), {m, 0.2});
    EXPECT_NEAR(e.sample.value(), golden()["sample_entropy"][std::to_string(m)].get<double>(), 1e-12) << m;
    EXPECT_NEAR(e.approximate.value(), golden()["approximate_entropy"][std::to_string(m)].get<double>(), 1e-12) << m;
  }
  const auto scales = multiscale_entropy(series(), 5);
  for (std::size_t k = 0; k < 5; ++k)
    EXPECT_NEAR(scales[k].value(), golden()["multiscale"][k].get<double>(), 1e-12) << k;
}

TEST(VariabilityGolden, ScalingExponentsAreThoseOfFittingEveryBox) {
  EXPECT_NEAR(fluctuation_exponent(series(), 4, 16).value(), golden()["alpha1"].get<double>(), 1e-9);
  EXPECT_NEAR(fluctuation_exponent(series(), 16, 64).value(), golden()["alpha2"].get<double>(), 1e-9);
}

TEST(VariabilityGolden, TheTriangleIsTheBestOfAllPairsOfFeet) {
  const Variability v = variability(normal_intervals(series(2000)));
  EXPECT_NEAR(v.triangular_index.value(), golden()["triangular_index"].get<double>(), 1e-12);
  EXPECT_NEAR(v.tinn_ms.value(), golden()["tinn_ms"].get<double>(), 1e-9);
}

}  // namespace
}  // namespace pulsewright
