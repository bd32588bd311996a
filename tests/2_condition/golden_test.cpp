/// Filters and resampling against scipy; tests/golden/make_condition.py makes the values.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <string>

#include "pulsewright/condition.hpp"

namespace pulsewright {
namespace {

using Json = nlohmann::json;

const Json& golden() {
  static const Json values = [] {
    std::ifstream file{std::string{PULSEWRIGHT_SOURCE_DIR} + "/tests/golden/condition.json"};
    return Json::parse(file);
  }();
  return values;
}

/// The input of make_condition.py.
std::vector<float> chirp(std::size_t n) {
  std::vector<float> x(n);
  for (std::size_t k = 0; k < n; ++k) {
    const auto i = static_cast<double>(k);
    x[k] = static_cast<float>(0.5 * std::sin(0.002 * i + 0.000005 * i * i) + 0.2 * std::sin(1.1 * i) + 3.0);
  }
  return x;
}

Sections design(const Json& c) {
  const int order = c["order"];
  const Hertz low{c["low_hz"].get<double>()}, high{c["high_hz"].get<double>()}, rate{c["rate_hz"].get<double>()};
  const std::string kind = c["kind"];
  if (kind == "lowpass") return butterworth_lowpass(order, high, rate);
  if (kind == "highpass") return butterworth_highpass(order, low, rate);
  if (kind == "bandpass") return butterworth_bandpass(order, low, high, rate);
  return butterworth_bandstop(order, low, high, rate);
}

std::string name_of(const Json& c) {
  return c["kind"].get<std::string>() + " of order " + c["order"].dump() + " at " + c["rate_hz"].dump() + " Hz";
}

TEST(Golden, ResponseOfEveryDesignEqualsThatOfItsPolesAndZeros) {
  ASSERT_EQ(golden()["responses"].size(), 84U);
  for (const Json& c : golden()["responses"]) {
    const Sections filter = design(c);
    for (std::size_t i = 0; i < c["at_hz"].size(); ++i) {
      const std::complex<double> expected{c["real"][i].get<double>(), c["imag"][i].get<double>()};
      const std::complex<double> ours =
          gain_at(filter, Hertz{c["at_hz"][i].get<double>()}, Hertz{c["rate_hz"].get<double>()});
      // Relative to the gain itself, however small it is; 1e-13 of the pass band is where both sides end.
      EXPECT_LT(std::abs(ours - expected), 1e-5 * std::abs(expected) + 1e-13)
          << name_of(c) << " at " << c["at_hz"][i] << " Hz";
    }
  }
}

TEST(Golden, ImpulseResponseEqualsThatOfScipySections) {
  for (const Json& c : golden()["impulses"]) {
    std::vector<float> x(400, 0.0F), y(400);
    x[1] = 1.0F;
    CausalFilter{design(c)}.process(x, y);
    for (std::size_t i = 0; i < c["at"].size(); ++i) {
      EXPECT_NEAR(y[c["at"][i].get<std::size_t>()], c["y"][i].get<double>(), 1e-7)
          << name_of(c) << " at " << c["at"][i];
    }
  }
}

TEST(Golden, NotchEqualsThatOfScipy) {
  const Json& c = golden()["notch"];
  const Sections f = notch(Hertz{c["centre_hz"].get<double>()}, c["quality"], Hertz{c["rate_hz"].get<double>()});
  ASSERT_EQ(f.size(), 1U);
  EXPECT_NEAR(f[0].b0, c["b"][0].get<double>(), 1e-14);
  EXPECT_NEAR(f[0].b1, c["b"][1].get<double>(), 1e-14);
  EXPECT_NEAR(f[0].b2, c["b"][2].get<double>(), 1e-14);
  EXPECT_NEAR(f[0].a1, c["a"][1].get<double>(), 1e-14);
  EXPECT_NEAR(f[0].a2, c["a"][2].get<double>(), 1e-14);
}

TEST(Golden, ZeroPhaseOutputEqualsThatOfScipyToTheEnds) {
  for (const Json& c : golden()["zero_phase"]) {
    const std::vector<float> y = filter_zero_phase(design(c), chirp(c["n"]));
    for (std::size_t i = 0; i < c["at"].size(); ++i) {
      // Samples are 32-bit floats around 3: one step is 2.4e-7.
      EXPECT_NEAR(y[c["at"][i].get<std::size_t>()], c["y"][i].get<double>(), 2e-6)
          << name_of(c) << " at " << c["at"][i];
    }
  }
}

TEST(Golden, ResamplingEqualsThatOfScipyAwayFromTheEnds) {
  for (const Json& c : golden()["resampled"]) {
    const std::vector<float> y = resample(chirp(c["n"]), c["up"], c["down"]);
    ASSERT_EQ(y.size(), c["length"].get<std::size_t>());
    for (std::size_t i = 0; i < c["at"].size(); ++i) {
      // Ours makes the weights of every position sum to one, scipy all of them together: within the stop band, 1e-4 of the offset 3.
      EXPECT_NEAR(y[c["at"][i].get<std::size_t>()], c["y"][i].get<double>(), 3e-4) << c["up"] << "/" << c["down"];
    }
  }
}

}  // namespace
}  // namespace pulsewright
