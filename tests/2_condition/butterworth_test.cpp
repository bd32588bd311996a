#include <gtest/gtest.h>

#include <cmath>

#include "2_condition/sine.hpp"
#include "pulsewright/condition.hpp"

namespace pulsewright {
namespace {

constexpr double rate = 360.0;

/// What a causal filter does to a sine once it has settled.
double measured_gain(const Sections& filter, double hz, double fs = rate) {
  const std::size_t settle = static_cast<std::size_t>(20.0 * fs);
  const std::size_t n = static_cast<std::size_t>(40.0 * fs);
  const std::vector<float> x = test::sine(hz, fs, settle + n);
  std::vector<float> y(x.size());
  CausalFilter{filter}.process(x, y);
  return test::amplitude(std::span{y}.subspan(settle), hz, fs);
}

double db(double gain) { return 20.0 * std::log10(gain); }

// The half-power edge and the slope of 6 dB an octave and order are what defines a Butterworth filter (Butterworth 1930).
constexpr double half_power_db = -3.0103;

TEST(Butterworth, LowpassPassesBelowHalvesPowerAtTheEdgeAndStopsAbove) {
  const Sections f = butterworth_lowpass(4, Hertz{15}, Hertz{rate});
  EXPECT_NEAR(db(measured_gain(f, 1.0)), 0.0, 0.001);
  EXPECT_NEAR(db(measured_gain(f, 15.0)), half_power_db, 0.001);
  EXPECT_LT(db(measured_gain(f, 30.0)), -24.0);
  EXPECT_LT(db(measured_gain(f, 60.0)), -48.0);
}

TEST(Butterworth, HighpassPassesAboveHalvesPowerAtTheEdgeAndStopsBelow) {
  const Sections f = butterworth_highpass(3, Hertz{5}, Hertz{rate});
  EXPECT_NEAR(db(measured_gain(f, 100.0)), 0.0, 0.001);
  EXPECT_NEAR(db(measured_gain(f, 5.0)), half_power_db, 0.001);
  EXPECT_LT(db(measured_gain(f, 2.5)), -18.0);
  EXPECT_LT(db(measured_gain(f, 1.25)), -36.0);
}

TEST(Butterworth, BandpassHalvesPowerAtBothEdges) {
  for (int order = 1; order <= 5; ++order) {
    const Sections f = butterworth_bandpass(order, Hertz{5}, Hertz{20}, Hertz{rate});
    EXPECT_EQ(f.size(), static_cast<std::size_t>(order));
    EXPECT_NEAR(db(measured_gain(f, 10.0)), 0.0, 0.01) << order;
    EXPECT_NEAR(db(measured_gain(f, 5.0)), half_power_db, 0.001) << order;
    EXPECT_NEAR(db(measured_gain(f, 20.0)), half_power_db, 0.001) << order;
    EXPECT_LT(db(measured_gain(f, 1.0)), -13.0 * order) << order;
    EXPECT_LT(db(measured_gain(f, 100.0)), -13.0 * order) << order;
  }
}

TEST(Butterworth, BandstopHalvesPowerAtBothEdgesAndStopsBetween) {
  for (int order = 1; order <= 5; ++order) {
    const Sections f = butterworth_bandstop(order, Hertz{40}, Hertz{60}, Hertz{rate});
    EXPECT_NEAR(db(measured_gain(f, 40.0)), half_power_db, 0.001) << order;
    EXPECT_NEAR(db(measured_gain(f, 60.0)), half_power_db, 0.001) << order;
    EXPECT_NEAR(db(measured_gain(f, 2.0)), 0.0, 0.02) << order;
    EXPECT_NEAR(db(measured_gain(f, 170.0)), 0.0, 0.02) << order;
  }
  // Centre of the band: tan(pi f / rate) is the geometric mean of those of the edges.
  const double centre =
      rate / std::numbers::pi *
      std::atan(std::sqrt(std::tan(std::numbers::pi * 40 / rate) * std::tan(std::numbers::pi * 60 / rate)));
  EXPECT_LT(std::abs(gain_at(butterworth_bandstop(2, Hertz{40}, Hertz{60}, Hertz{rate}), Hertz{centre}, Hertz{rate})),
            1e-9);
}

TEST(Butterworth, EveryOrderAndKindIsSoundAtAVeryLowEdge) {
  // 0.05 Hz at 1000 Hz: poles within 2e-4 of z = 1.
  const Hertz fs{1000}, edge{0.05};
  for (int order = 1; order <= 12; ++order) {
    const Sections low = butterworth_lowpass(order, edge, fs);
    const Sections high = butterworth_highpass(order, edge, fs);
    const Sections band = butterworth_bandpass(order, edge, Hertz{40}, fs);
    EXPECT_NEAR(db(std::abs(gain_at(low, Hertz{0}, fs))), 0.0, 1e-6) << order;
    EXPECT_NEAR(db(std::abs(gain_at(low, edge, fs))), half_power_db, 1e-4) << order;
    EXPECT_NEAR(db(std::abs(gain_at(high, edge, fs))), half_power_db, 1e-4) << order;
    EXPECT_NEAR(db(std::abs(gain_at(high, Hertz{500}, fs))), 0.0, 1e-9) << order;
    EXPECT_NEAR(db(std::abs(gain_at(band, edge, fs))), half_power_db, 1e-4) << order;
    EXPECT_NEAR(db(std::abs(gain_at(band, Hertz{40}, fs))), half_power_db, 1e-4) << order;
    for (const Sections* f : {&low, &high, &band}) {
      for (const Section& s : *f) {  // inside the triangle of stability
        EXPECT_LT(s.a2, 1.0);
        EXPECT_GT(1.0 + s.a1 + s.a2, 0.0);
        EXPECT_GT(1.0 - s.a1 + s.a2, 0.0);
      }
    }
  }
}

TEST(Butterworth, ConstantPassesALowpassExactlyAndVanishesInAHighpass) {
  const Sections low = butterworth_lowpass(6, Hertz{10}, Hertz{rate});
  const Sections high = butterworth_highpass(6, Hertz{10}, Hertz{rate});
  std::vector<float> x(1000, 7.0F), y(1000);
  CausalFilter{low}.process(x, y);
  for (const float v : y) ASSERT_NEAR(v, 7.0F, 1e-5F);
  CausalFilter{high}.process(x, y);
  for (const float v : y) ASSERT_NEAR(v, 0.0F, 1e-6F);
  EXPECT_EQ(std::abs(gain_at(high, Hertz{0}, Hertz{rate})), 0.0);
}

TEST(Butterworth, HalfTheRateVanishesInALowpass) {
  const Sections f = butterworth_lowpass(5, Hertz{10}, Hertz{rate});
  EXPECT_LT(std::abs(gain_at(f, Hertz{rate / 2}, Hertz{rate})), 1e-15);
}

TEST(Butterworth, RefusesWhatCannotBeDesigned) {
  const auto code_of = [](auto&& design) {
    try {
      (void)design();
    } catch (const Error& e) {
      EXPECT_NE(std::string{e.what()}, "");
      return e.code() == ErrorCode::contract;
    }
    return false;
  };
  const Hertz fs{rate};
  EXPECT_TRUE(code_of([&] { return butterworth_lowpass(0, Hertz{10}, fs); }));
  EXPECT_TRUE(code_of([&] { return butterworth_lowpass(13, Hertz{10}, fs); }));
  EXPECT_TRUE(code_of([&] { return butterworth_lowpass(2, Hertz{0}, fs); }));
  EXPECT_TRUE(code_of([&] { return butterworth_lowpass(2, Hertz{180}, fs); }));
  EXPECT_TRUE(code_of([&] { return butterworth_highpass(2, Hertz{-1}, fs); }));
  EXPECT_TRUE(code_of([&] { return butterworth_highpass(2, Hertz{std::nan("")}, fs); }));
  EXPECT_TRUE(code_of([&] { return butterworth_bandpass(2, Hertz{20}, Hertz{5}, fs); }));
  EXPECT_TRUE(code_of([&] { return butterworth_bandpass(2, Hertz{5}, Hertz{5}, fs); }));
  EXPECT_TRUE(code_of([&] { return butterworth_bandstop(2, Hertz{5}, Hertz{200}, fs); }));
  EXPECT_TRUE(code_of([&] { return butterworth_lowpass(2, Hertz{10}, Hertz{0}); }));
  EXPECT_TRUE(code_of([&] { return notch(Hertz{50}, 0.0, fs); }));
  EXPECT_TRUE(code_of([&] { return notch(Hertz{180}, 30.0, fs); }));
}

TEST(Notch, RemovesItsCentreAndIsHalfPowerAtItsWidth) {
  const Sections f = notch(Hertz{50}, 25.0, Hertz{rate});  // 2 Hz wide
  EXPECT_LT(measured_gain(f, 50.0), 1e-6);
  EXPECT_NEAR(db(measured_gain(f, 40.0)), 0.0, 0.05);
  EXPECT_NEAR(db(measured_gain(f, 60.0)), 0.0, 0.05);
  EXPECT_NEAR(db(measured_gain(f, 0.5)), 0.0, 0.001);
  // The width is exact in the warped frequency; at 50 of 360 Hz the edges 49 and 51 Hz are within a tenth of a decibel.
  EXPECT_NEAR(db(measured_gain(f, 49.0)), half_power_db, 0.15);
  EXPECT_NEAR(db(measured_gain(f, 51.0)), half_power_db, 0.15);
}

}  // namespace
}  // namespace pulsewright
