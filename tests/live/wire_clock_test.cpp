#include <gtest/gtest.h>

#include <random>

#include "live/sensor_bytes.hpp"
#include "pulsewright/error.hpp"

namespace {

using namespace pulsewright;

WireSample at(std::uint64_t ticks, std::uint32_t sequence, TickUnit unit = TickUnit::microseconds) {
  WireSample sample;
  sample.sequence = sequence;
  sample.ticks = SensorTicks{ticks % (std::uint64_t{1} << 32), unit};
  sample.value = static_cast<float>(sequence);
  return sample;
}

TEST(WireClock, GoesOnWhenTheCountersOfMicrosAndMillisRollOver) {
  for (const TickUnit unit : {TickUnit::microseconds, TickUnit::milliseconds}) {
    for (const bool live : {true, false}) {
      WireClock clock;
      std::vector<TimedSample> out;
      const std::uint64_t step = unit == TickUnit::microseconds ? 10'000 : 10;
      const std::uint64_t start = (std::uint64_t{1} << 32) - 50 * step;
      for (std::uint32_t i = 0; i < 100; ++i) {
        const auto arrived = live ? std::optional<std::int64_t>{10'000LL * i} : std::nullopt;
        clock.place(at(start + i * step, (65'500 + i) % 65'536, unit), arrived, out);
      }
      ASSERT_EQ(out.size(), 100U);
      for (std::size_t i = 0; i < out.size(); ++i) EXPECT_EQ(out[i].time_us, 10'000 * static_cast<std::int64_t>(i));
      EXPECT_EQ(clock.counts().lost, 0U);
      EXPECT_EQ(clock.counts().restarts, 0U);
    }
  }
}

TEST(WireClock, LeavesThePlaceOfLostSamplesEmpty) {
  WireClock with_clock, with_rate{Hertz{100}};
  std::vector<TimedSample> clocked, counted;
  for (std::uint32_t i = 0; i < 100; ++i) {
    if (i % 10 == 3) continue;
    with_clock.place(at(10'000ULL * i, i), std::nullopt, clocked);
    WireSample bare;
    bare.sequence = i;
    with_rate.place(bare, std::nullopt, counted);
  }
  ASSERT_EQ(clocked.size(), 90U);
  for (std::size_t k = 0; k < clocked.size(); ++k) EXPECT_EQ(clocked[k].time_us, counted[k].time_us);
  EXPECT_EQ(clocked[3].time_us, 40'000);
  EXPECT_EQ(clocked[3].before, WireBreak::lost);
  EXPECT_EQ(with_clock.counts().lost, 10U);
  EXPECT_EQ(with_rate.counts().lost, 10U);
}

TEST(WireClock, GoesOnByTheClockOfThisMachineAfterARestart) {
  WireClock clock;
  std::vector<TimedSample> out;
  for (std::uint32_t i = 0; i < 200; ++i) clock.place(at(5'000'000 + 10'000ULL * i, i), 10'000LL * i, out);
  // The plug was pulled for 30 s; the sensor counts from zero again.
  clock.interrupt();
  for (std::uint32_t i = 0; i < 200; ++i) clock.place(at(10'000ULL * i, i), 31'990'000 + 10'000LL * i, out);
  ASSERT_EQ(out.size(), 400U);
  EXPECT_EQ(out[199].time_us, 1'990'000);
  EXPECT_EQ(out[200].time_us, 31'990'000);
  EXPECT_EQ(out[200].before, WireBreak::restarted);
  EXPECT_EQ(out[399].time_us, 33'980'000);
  EXPECT_EQ(clock.counts().restarts, 1U);
}

TEST(WireClock, NoticesARestartThatNobodyAnnounced) {
  WireClock clock;
  std::vector<TimedSample> out;
  for (std::uint32_t i = 0; i < 200; ++i) clock.place(at(500'000'000 + 10'000ULL * i, 40'000 + i), 10'000LL * i, out);
  for (std::uint32_t i = 0; i < 200; ++i) clock.place(at(10'000ULL * i, i), 4'000'000 + 10'000LL * i, out);
  ASSERT_EQ(out.size(), 400U);
  EXPECT_EQ(out[200].time_us, 4'000'000);
  EXPECT_EQ(out[200].before, WireBreak::restarted);
}

TEST(WireClock, LeavesOutASampleWhoseTimeWasDamagedAndOneThatComesTwice) {
  WireClock clock;
  std::vector<TimedSample> out;
  for (std::uint32_t i = 0; i < 100; ++i) {
    const std::uint64_t damaged = i == 40 ? 900'000'000 : 0;
    clock.place(at(10'000ULL * i + damaged, i), 10'000LL * i, out);
    if (i == 60) clock.place(at(10'000ULL * i, i), 10'000LL * i, out);
  }
  EXPECT_EQ(out.size(), 99U);
  EXPECT_EQ(clock.counts().implausible, 1U);
  EXPECT_EQ(clock.counts().out_of_order, 1U);
  EXPECT_EQ(clock.counts().restarts, 0U);
  EXPECT_EQ(out.back().time_us, 990'000);
}

TEST(WireClock, KeepsAGapOfTheSensorsOwnClockWhenAFileIsRead) {
  WireClock clock;
  std::vector<TimedSample> out;
  for (std::uint32_t i = 0; i < 100; ++i) clock.place(at(10'000ULL * i, i), std::nullopt, out);
  for (std::uint32_t i = 100; i < 200; ++i) clock.place(at(10'000ULL * i + 60'000'000, i), std::nullopt, out);
  ASSERT_EQ(out.size(), 200U);
  EXPECT_EQ(out[100].time_us, 61'000'000);
  EXPECT_EQ(out[199].time_us, 61'990'000);
}

TEST(WireClock, CountsSamplesWhereTheSensorSaysNothingElseAndLeavesAGapWhenItIsSilent) {
  WireClock clock{Hertz{360}};
  std::vector<TimedSample> out;
  for (int i = 0; i < 720; ++i) clock.place(WireSample{}, std::llround(1e6 * i / 360.0), out);
  EXPECT_EQ(out[360].time_us, 1'000'000);  // fractions of 2777.8 us do not add up
  clock.place(WireSample{}, 12'000'000, out);
  EXPECT_EQ(out.back().before, WireBreak::silent);
  EXPECT_NEAR(static_cast<double>(out.back().time_us), 12e6, 5e3);
}

TEST(WireClock, AsksForARateWhereThereIsNoClock) {
  WireClock clock;
  std::vector<TimedSample> out;
  try {
    clock.place(WireSample{}, std::nullopt, out);
    FAIL();
  } catch (const Error& error) {
    EXPECT_EQ(error.code(), ErrorCode::usage);
    EXPECT_NE(std::string{error.what()}.find("--rate"), std::string::npos);
  }
}

TEST(RateFinder, FindsTheNominalRateThroughJitterLossAndCoarseClocks) {
  std::mt19937 random{3};
  std::normal_distribution<double> jitter{0.0, 400.0};
  for (const double rate : {50.0, 100.0, 125.0, 250.0, 360.0, 500.0}) {
    for (const double tick : {1.0, 1000.0}) {
      RateFinder finder;
      for (int i = 0; i < 600; ++i) {
        if (random() % 20 == 0) continue;
        const double exact = 1e6 * i / rate + (tick > 1.0 ? 0.0 : jitter(random));
        finder.push({static_cast<std::int64_t>(std::floor(exact / tick) * tick) + 5000, 0.0F, WireBreak::none});
      }
      ASSERT_TRUE(finder.rate());
      EXPECT_NEAR(finder.rate()->value(), rate, 0.03 * rate) << tick;
    }
  }
}

}  // namespace
