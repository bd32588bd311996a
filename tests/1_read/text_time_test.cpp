// Time columns of text: units, clocks, uniformity, gaps, jitter.
#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "1_read/open_data.hpp"
#include "1_read/refusal.hpp"
#include "pulsewright/read.hpp"

namespace {

using namespace pulsewright;
using namespace read_tests;

Recording read_text(const std::string& text, double rate = 0) {
  const ScratchFolder folder;
  ReadOptions options;
  if (rate > 0) options.rate = Hertz{rate};
  return read_recording(folder.write("log.csv", text), options);
}

std::string table(const std::string& header, const std::vector<std::string>& times) {
  std::string text = header + ",ecg\n";
  for (std::size_t i = 0; i < times.size(); ++i) text += times[i] + "," + std::to_string(i % 50) + "\n";
  return text;
}

/// `count` times `step` apart, in `decimals` decimals.
std::vector<std::string> even(std::size_t count, double step, int decimals, double start = 0) {
  std::vector<std::string> times;
  for (std::size_t i = 0; i < count; ++i) {
    char cell[64];
    std::snprintf(cell, sizeof cell, "%.*f", decimals, start + static_cast<double>(i) * step);
    times.emplace_back(cell);
  }
  return times;
}

struct UniformCase {
  const char* header;
  double step;
  int decimals;
  double rate;
};

TEST(TimeColumn, GivesAnExactRateInEveryUnit) {
  for (const UniformCase& c :
       {UniformCase{"time_s", 0.008, 3, 125}, UniformCase{"time_ms", 8, 0, 125}, UniformCase{"time [us]", 8000, 0, 125},
        UniformCase{"millis", 4, 0, 250}, UniformCase{"micros", 2000, 0, 500}, UniformCase{"Time (ms)", 20, 0, 50},
        UniformCase{"t [min]", 0.01 / 60, 9, 100}, UniformCase{"time_ns", 1e6, 0, 1000},
        // steps that the digits cannot show exactly
        UniformCase{"time_s", 1 / 256.0, 3, 256}, UniformCase{"time_ms", 1000 / 360.0, 0, 360},
        UniformCase{"time_s", 1 / 62.5, 4, 62.5}, UniformCase{"time_s", 1 / 51.2, 6, 51.2}}) {
    const Recording r = read_text(table(c.header, even(3000, c.step, c.decimals)));
    EXPECT_EQ(codes_of(r.warnings), "") << c.header << " " << c.step;
    EXPECT_TRUE(r.channels[0].times.empty()) << c.header << " " << c.step;
    EXPECT_DOUBLE_EQ(r.channels[0].rate.value(), c.rate) << c.header << " " << c.step;
    EXPECT_DOUBLE_EQ(r.duration.value(), 3000 / c.rate);
  }
}

TEST(TimeColumn, KeepsAnUnroundRateUnround) {
  // an oscillator 0.03 % fast: 124.9625 Hz over 80 s is 3 samples off 125 Hz
  const Recording r = read_text(table("time_s", even(10000, 1 / 124.9625, 6)));
  EXPECT_TRUE(r.channels[0].times.empty());
  EXPECT_NEAR(r.channels[0].rate.value(), 124.9625, 1e-4);
}

TEST(TimeColumn, AssumesAUnitThatIsNotStatedAndSaysSo) {
  const auto check = [](double step, int decimals, double rate, const char* word) {
    const Recording r = read_text(table("time", even(200, step, decimals)));
    ASSERT_EQ(codes_of(r.warnings), "time_unit_assumed");
    EXPECT_NE(r.warnings[0].message.find(word), std::string::npos) << r.warnings[0].message;
    EXPECT_DOUBLE_EQ(r.channels[0].rate.value(), rate);
  };
  check(0.008, 3, 125, "seconds");
  check(8, 0, 125, "milliseconds");
  check(8000, 0, 125, "microseconds");
}

TEST(TimeColumn, IsFoundWithoutAHeader) {
  std::string text;
  for (int i = 0; i < 50; ++i) text += std::to_string(12345 + 8 * i) + " " + std::to_string(i * 7 % 23) + "\n";
  const Recording r = read_text(text);
  ASSERT_EQ(r.channels.size(), 1u);
  EXPECT_EQ(r.channels[0].rate, Hertz{125});
  EXPECT_EQ(codes_of(r.warnings), "time_unit_assumed time_offset");
  // where the stated rate contradicts the column it is no clock, but neither is it a signal
  const Recording stated = read_text(text, 1000);
  EXPECT_EQ(stated.channels.size(), 1u);
  EXPECT_EQ(stated.channels[0].rate, Hertz{1000});
  EXPECT_EQ(codes_of(stated.warnings), "rising_column_left_out");
}

TEST(TimeColumn, IsKnownInOtherLanguages) {
  for (const char* header : {"Zeit", "zeit_s", "Zeit (s)", "Zeit [s]", "Zeit in s", "ZEIT (Sekunden)", "temps",
                             "temps (s)", "Temps (secondes)", "tiempo", "Tiempo (s)", "tempo", "tijd", "sekunden"}) {
    const Recording r = read_text(table(header, even(200, 0.01, 2)));
    EXPECT_EQ(r.channels.size(), 1u) << header;
    EXPECT_EQ(r.channels[0].rate, Hertz{100}) << header;
  }
  for (const char* header :
       {"Zeit_ms", "Zeit in Millisekunden", "temps_ms", "Tiempo (milisegundos)", "millisekunden"}) {
    const Recording r = read_text(table(header, even(200, 10, 0)));
    EXPECT_EQ(r.channels[0].rate, Hertz{100}) << header;
    EXPECT_EQ(codes_of(r.warnings), "") << header;
  }
  for (const char* header : {"Uhrzeit", "heure", "hora"}) {
    const Recording r = read_text(table(header, {"10:00:00.000", "10:00:00.010", "10:00:00.020"}));
    EXPECT_EQ(r.clock_start, "10:00:00") << header;
  }
  const Recording german = read_text("Zeit (s);Puls\n0,00;1,5\n0,01;2,5\n0,02;3,5\n");
  ASSERT_EQ(german.channels.size(), 1u);
  EXPECT_EQ(german.channels[0].kind, ChannelKind::pulse);
  EXPECT_EQ(german.channels[0].rate, Hertz{100});
}

TEST(TimeColumn, ThatIsMissingIsExplainedOnceWithTheColumnsAndTheNamesThatWouldDo) {
  const Refusal refusal = refusal_of([] { return read_text("when,clip\n1,5\n2,7\n3,4\n"); });
  EXPECT_EQ(refusal.code, ErrorCode::usage);
  for (const char* piece : {"log.csv:2", "'when', 'clip'", "--rate HZ", "time", "zeit", "temps", "tiempo", "time_s"})
    EXPECT_NE(refusal.message.find(piece), std::string::npos) << piece << " is missing in: " << refusal.message;
}

TEST(TimeColumn, UnderAnUnknownNameIsNoSignalEvenWithAStatedRate) {
  std::string text = "takt,clip,ecg\n";
  for (int i = 0; i < 300; ++i)
    text += std::to_string(8 * i) + "," + std::to_string(i % 7) + "," + std::to_string(i) + "\n";
  const Recording r = read_text(text, 125);
  ASSERT_EQ(codes_of(r.warnings), "rising_column_left_out");
  EXPECT_NE(r.warnings[0].message.find("column 'takt'"), std::string::npos) << r.warnings[0].message;
  ASSERT_EQ(r.channels.size(), 2u);  // a channel that its name makes an ECG may rise as it likes
  EXPECT_EQ(r.channels[0].name, "clip");
  EXPECT_EQ(r.channels[1].name, "ecg");
}

TEST(TimeColumn, StartsAtTheFirstRowAndSaysWhereThatWas) {
  const Recording r = read_text(table("time_s", even(10, 0.01, 2, 30)));
  EXPECT_EQ(codes_of(r.warnings), "time_offset");
  EXPECT_EQ(r.channels[0].start, Seconds{0});
  EXPECT_DOUBLE_EQ(r.duration.value(), 0.1);
}

TEST(TimeColumn, ReadsClockTimesAndDates) {
  const auto clock = [](const std::string& header, const std::vector<std::string>& times) {
    const Recording r = read_text(table(header, times));
    EXPECT_EQ(codes_of(r.warnings), "") << times[0];
    EXPECT_EQ(r.channels.size(), 1u);
    EXPECT_DOUBLE_EQ(r.channels[0].rate.value(), 100) << times[0];
    return r.clock_start.value_or("none");
  };
  EXPECT_EQ(clock("time", {"10:00:00.000", "10:00:00.010", "10:00:00.020"}), "10:00:00");
  EXPECT_EQ(clock("stamp", {"2024-03-01T10:00:00.250Z", "2024-03-01T10:00:00.260Z", "2024-03-01T10:00:00.270Z"}),
            "2024-03-01T10:00:00.250Z");
  EXPECT_EQ(clock("when", {"2024-03-01 23:59:59.990", "2024-03-02 00:00:00.000", "2024-03-02 00:00:00.010"}),
            "2024-03-01T23:59:59.990");
  EXPECT_EQ(clock("time", {"23:59:59.990", "00:00:00.000", "00:00:00.010"}), "23:59:59.990");  // past midnight
  EXPECT_EQ(clock("time", {"0:00.000", "0:00.010", "0:00.020"}), "none");  // elapsed minutes and seconds
  EXPECT_EQ(clock("date,time", {"01.03.2024,9:00:00.00", "01.03.2024,9:00:00.01", "01.03.2024,9:00:00.02"}),
            "2024-03-01T09:00:00");
  EXPECT_EQ(
      clock("t", {"2024-03-01 09:00:00.00+01:00", "2024-03-01 09:00:00.01+01:00", "2024-03-01 09:00:00.02+01:00"}),
      "2024-03-01T09:00:00+01:00");
}

TEST(TimeColumn, ReadsSecondsSince1970) {
  // 1709287200 is 2024-03-01 10:00:00 UTC (date -u -d @1709287200)
  for (const auto& times : {even(200, 0.01, 3, 1709287200.5), even(200, 10, 0, 1709287200500)}) {
    const Recording r = read_text(table("timestamp", times));
    EXPECT_EQ(codes_of(r.warnings), "time_unit_assumed");
    EXPECT_DOUBLE_EQ(r.channels[0].rate.value(), 100);
    EXPECT_EQ(r.clock_start, "2024-03-01T10:00:00.500Z");
  }
}

TEST(TimeColumn, CountsSamplesAtTheStatedRate) {
  const Recording r = read_text("sample,ecg\n0,1\n1,2\n2,3\n5,4\n6,5\n", 250);
  ASSERT_EQ(r.channels.size(), 1u);
  EXPECT_EQ(codes_of(r.warnings), "clock_gaps");
  EXPECT_DOUBLE_EQ(r.channels[0].times[3], 5 / 250.0);
  EXPECT_EQ(refusal_of([] { return read_text("sample,ecg\n0,1\n1,2\n2,3\n"); }).code, ErrorCode::usage);
}

TEST(TimeColumn, KeepsTimesAndCountsGapsWhenRowsAreMissing) {
  auto times = even(1000, 0.008, 3);
  times.erase(times.begin() + 600, times.begin() + 725);  // one second
  times.erase(times.begin() + 200, times.begin() + 202);
  const Recording r = read_text(table("time_s", times));
  ASSERT_EQ(codes_of(r.warnings), "clock_gaps");
  const std::string& message = r.warnings[0].message;
  EXPECT_NE(message.find("2 gaps"), std::string::npos) << message;
  EXPECT_NE(message.find("1.016 s in all"), std::string::npos) << message;
  EXPECT_NE(message.find("log.csv:600"), std::string::npos) << message;  // rows 0..597 are lines 2..599
  EXPECT_NE(message.find("at 5.800 s"), std::string::npos) << message;
  const Channel& c = r.channels[0];
  ASSERT_EQ(c.times.size(), c.samples.size());
  EXPECT_DOUBLE_EQ(c.rate.value(), 125);
  EXPECT_DOUBLE_EQ(c.times[200], 0.008 * 202);
  EXPECT_NEAR(r.duration.value(), 8.0, 1e-9);
}

TEST(TimeColumn, NoticesASingleMissingRowAtOneMillisecond) {
  auto times = even(1000, 1, 0);
  times.erase(times.begin() + 500);
  const Recording r = read_text(table("time_ms", times));
  EXPECT_EQ(codes_of(r.warnings), "clock_gaps");
}

TEST(TimeColumn, KeepsTimesAndMeasuresJitter) {
  std::mt19937 random{7};
  std::vector<std::string> times;
  for (int i = 0; i < 2000; ++i)
    times.push_back(std::to_string(i * 8000 + static_cast<int>(random() % 2000)));  // +- 1 ms in 8
  const Recording r = read_text(table("time_us", times));
  EXPECT_TRUE(warns(r.warnings, "clock_jitter"));
  EXPECT_FALSE(warns(r.warnings, "clock_gaps"));
  EXPECT_EQ(r.channels[0].times.size(), 2000u);
  EXPECT_DOUBLE_EQ(r.channels[0].rate.value(), 125);
  for (std::size_t i = 1; i < 2000; ++i) EXPECT_LT(r.channels[0].times[i - 1], r.channels[0].times[i]);
}

TEST(TimeColumn, RefusesTimeRunningBackwardsByLine) {
  const ScratchFolder folder;
  const auto path = folder.write("log.csv", "time_s,ecg\n0,1\n0.01,2\n0.005,3\n0.02,4\n");
  expect_refusal([&] { return read_recording(path); }, ErrorCode::unreadable, "log.csv:4", "column 'time_s'",
                 "value '0.005'", "backwards");
}

TEST(TimeColumn, RefusesARateOfNoSensorAndLinesWithoutLineFeeds) {
  const ScratchFolder folder;
  std::string fast = "time_s,ecg\n";
  for (int i = 0; i < 100; ++i) fast += std::to_string(i) + "e-12," + std::to_string(i % 7) + "\n";
  const auto path = folder.write("fast.csv", fast);
  expect_refusal([&] { return read_recording(path); }, ErrorCode::unreadable, "fast.csv", "1e+12 Hz", "another unit");
  const auto old = folder.write("old.csv", "time_s,ecg\r0,1\r0.01,2\r0.02,3\r");
  expect_refusal([&] { return read_recording(old); }, ErrorCode::unreadable, "old.csv", "carriage returns alone");
}

TEST(TimeColumn, SpreadsRowsThatShareATime) {
  // whole seconds at 4 Hz: an even grid fits
  const Recording coarse = read_text(table("time_s", {"0", "0", "0", "0", "1", "1", "1", "1", "2", "2", "2", "2"}));
  EXPECT_EQ(codes_of(coarse.warnings), "times_coarse no_wave");
  EXPECT_DOUBLE_EQ(coarse.channels[0].rate.value(), 4);
  EXPECT_TRUE(coarse.channels[0].times.empty());
  // an even file in which one row too many repeats a time
  auto times = even(100, 0.1, 4);
  times.insert(times.begin() + 50, times[49]);
  const Recording uneven = read_text(table("time_s", times));
  EXPECT_EQ(codes_of(uneven.warnings), "times_repeated clock_jitter");
  ASSERT_EQ(uneven.channels[0].times.size(), 101u);
  EXPECT_NEAR(uneven.channels[0].times[50], 4.95, 1e-9);
}

TEST(TimeColumn, GoesOnWhenA32BitCounterStartsAgain) {
  std::vector<std::string> times;
  for (std::uint32_t i = 0; i < 500; ++i) times.push_back(std::to_string(4294967295U - 2000000U + i * 8000U));
  const Recording r = read_text(table("micros", times));
  EXPECT_EQ(codes_of(r.warnings), "clock_wrapped time_offset");
  EXPECT_DOUBLE_EQ(r.channels[0].rate.value(), 125);
  EXPECT_DOUBLE_EQ(r.duration.value(), 4);
}

TEST(TimeColumn, RefusesAClockThatStands) {
  const auto refusal = refusal_of([] { return read_text("time_s,ecg\n1,1\n1,2\n1,3\n"); });
  EXPECT_EQ(refusal.code, ErrorCode::unreadable);
  EXPECT_NE(refusal.message.find("never advances"), std::string::npos) << refusal.message;
}

TEST(TimeColumn, PrefersTheFilesOwnRate) {
  const Recording r = read_text(table("time_s", even(100, 0.01, 2)), 500);
  EXPECT_EQ(r.channels[0].rate, Hertz{100});
  EXPECT_EQ(codes_of(r.warnings), "rate_ignored");
  EXPECT_EQ(codes_of(read_text(table("time_s", even(100, 0.01, 2)), 100).warnings), "");
}

}  // namespace
