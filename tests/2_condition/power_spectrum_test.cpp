#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "pulsewright/error.hpp"
#include "pulsewright/spectrum.hpp"

namespace {

using namespace pulsewright;

std::vector<float> sine(double cycles, std::size_t n) {
  std::vector<float> values(n);
  for (std::size_t i = 0; i < n; ++i)
    values[i] =
        static_cast<float>(std::cos(2.0 * std::numbers::pi * cycles * static_cast<double>(i) / static_cast<double>(n)));
  return values;
}

TEST(PowerSpectrum, OfACosineInAHannWindowHasThreeBinsAsComputedByHand) {
  // A Hann window splits a line into amplitudes N/4, N/8 (and minus) to either side: powers in the ratio 4 : 1.
  PowerSpectrum spectrum{64, 64};
  const auto power = spectrum.of(sine(10, 64));
  EXPECT_NEAR(power[10], 16.0 * 16.0, 1e-3);
  EXPECT_NEAR(power[9], 8.0 * 8.0, 1e-3);
  EXPECT_NEAR(power[11], 8.0 * 8.0, 1e-3);
  EXPECT_NEAR(power[13], 0.0, 1e-3);
}

TEST(PowerSpectrum, PaddedSamplesTheSameSpectrumMoreDensely) {
  PowerSpectrum plain{64, 64}, padded{64, 256};
  const std::vector<float> values = sine(10.3, 64);
  const std::vector<double> a(plain.of(values).begin(), plain.of(values).end());
  const auto b = padded.of(values);
  for (std::size_t bin = 0; bin < a.size(); ++bin) EXPECT_NEAR(a[bin], b[4 * bin], 1e-6 * 1024);
  EXPECT_EQ(padded.bin_width(Hertz{25.6}).value(), 0.1);
}

TEST(PowerSpectrum, DoesNotSeeTheMean) {
  PowerSpectrum spectrum{50, 64};
  const auto power = spectrum.of(std::vector<float>(50, 7.0F));
  EXPECT_NEAR(*std::max_element(power.begin(), power.end()), 0.0, 1e-9);
}

TEST(PowerSpectrum, RefusesLengthsThatDoNotFit) {
  EXPECT_THROW((PowerSpectrum{1, 64}), Error);
  EXPECT_THROW((PowerSpectrum{64, 32}), Error);
  EXPECT_THROW((PowerSpectrum{63, 65}), Error);
  PowerSpectrum spectrum{64, 64};
  EXPECT_THROW((void)spectrum.of(std::vector<float>(63)), Error);
}

}  // namespace
