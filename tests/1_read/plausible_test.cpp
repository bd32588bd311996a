// Numbers that are not what they look like: thousands parted by signs, infinities, samples beyond any sensor.
#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "1_read/open_data.hpp"
#include "1_read/refusal.hpp"
#include "pulsewright/read.hpp"

namespace {

using namespace pulsewright;
using namespace read_tests;

constexpr auto unreadable = ErrorCode::unreadable;

/// A text with the given values in its second column, the times of the first written so.
std::string table(const std::string& header, char delimiter, const char* time, const std::vector<std::string>& values) {
  std::string text = header + "\n";
  for (std::size_t i = 0; i < 40; ++i) {
    char stamp[40];
    std::snprintf(stamp, sizeof stamp, time, static_cast<int>(i / 250), static_cast<int>(i % 250) * 4);
    text += std::string{stamp} + delimiter + values[i % values.size()] + "\n";
  }
  return text;
}

TEST(Thousands, ASignThatMayPartEitherIsRefusedWithBothReadings) {
  const ScratchFolder folder;
  const std::vector<std::string> commas{"998", "1,012", "1,034", "1,000"};
  const auto semicolon = folder.write("a.csv", table("time_ms;pulse", ';', "%d%03d", commas));
  expect_refusal([&] { return read_recording(semicolon); }, unreadable, "a.csv:3", "column 'pulse'", "'1,012'", "1.012",
                 "1012", "Write thousands without a sign");
  const auto points = folder.write("b.csv", table("time_ms\tpulse", '\t', "%d%03d", {"998", "1.012", "1.034"}));
  expect_refusal([&] { return read_recording(points); }, unreadable, "b.csv:3", "'1.012'", "may be 1.012 or 1012");
  const auto quoted = folder.write("c.csv", table("time_ms,pulse", ',', "%d%03d", {"998", "\"1,012\""}));
  expect_refusal([&] { return read_recording(quoted); }, unreadable, "c.csv:3", "'1,012'");
}

TEST(Thousands, TheOtherColumnsDecide) {
  const ScratchFolder folder;
  const std::vector<std::string> commas{"998", "1,012", "1,034", "1,000"};
  const Recording parted = read_recording(folder.write("a.csv", table("time_s;pulse", ';', "%d.%03d", commas)));
  EXPECT_EQ(std::vector<float>(parted.channels[0].samples.begin(), parted.channels[0].samples.begin() + 4),
            (std::vector<float>{998, 1012, 1034, 1000}));
  EXPECT_TRUE(warns(parted.warnings, "thousands_parted"));
  const Recording german =
      read_recording(folder.write("b.csv", table("time_s;pulse", ';', "%d,%03d", {"998", "1.012", "1.000"})));
  EXPECT_EQ(std::vector<float>(german.channels[0].samples.begin(), german.channels[0].samples.begin() + 3),
            (std::vector<float>{998, 1012, 1000}));
  const Recording decimals = read_recording(folder.write("c.csv", table("time_s;pulse", ';', "%d,%03d", commas)));
  EXPECT_FLOAT_EQ(decimals.channels[0].samples[1], 1.012F);
}

TEST(Thousands, TheColumnItselfDecides) {
  const ScratchFolder folder;
  const auto first = [&](const std::vector<std::string>& values) {
    const Recording r = read_recording(folder.write("a.csv", table("time_ms;pulse", ';', "%d%03d", values)));
    return std::vector<float>(r.channels[0].samples.begin(),
                              r.channels[0].samples.begin() + static_cast<std::ptrdiff_t>(values.size()));
  };
  EXPECT_EQ(first({"998", "1,012,345", "1,012"}), (std::vector<float>{998, 1012345, 1012}));
  EXPECT_EQ(first({"1,012,345", "1,012,346"}), (std::vector<float>{1012345, 1012346}));
  EXPECT_EQ(first({"998", "1.012,5", "1.012"}), (std::vector<float>{998, 1012.5F, 1012}));
  EXPECT_EQ(first({"998,5", "1.012,5", "1.012"}), (std::vector<float>{998.5F, 1012.5F, 1012}));
  EXPECT_EQ(first({"998", "1,012", "1,5"}), (std::vector<float>{998, 1.012F, 1.5F}));
  EXPECT_EQ(first({"1012", "1,012", "998"}), (std::vector<float>{1012, 1.012F, 998}));
  EXPECT_EQ(first({"0", "1,012", "0,998"}), (std::vector<float>{0, 1.012F, 0.998F}));
  EXPECT_EQ(first({"84,512", "84,498", "0"}), (std::vector<float>{84.512F, 84.498F, 0}));  // the scale alone is open
}

TEST(Thousands, InAListOfIntervalsAreRefused) {
  const ScratchFolder folder;
  const auto points = folder.write("a.txt", "998\n1.012\n987\n1.034\n");
  expect_refusal([&] { return read_intervals(points, IntervalUnit::milliseconds); }, unreadable, "a.txt:2", "1.012");
  const auto commas = folder.write("b.txt", "998\n1,012\n987\n1,134\n");
  expect_refusal([&] { return read_intervals(commas, IntervalUnit::milliseconds); }, unreadable, "b.txt:2", "1,012");
  EXPECT_EQ(read_intervals(folder.write("c.txt", "800,810\n790,820\n"), IntervalUnit::milliseconds).candidates.size(),
            5u);
}

TEST(Plausible, ANumberTooLargeForSinglePrecisionIsNoSample) {
  const ScratchFolder folder;
  std::string text = "time_s,ecg_mV\n";
  for (int i = 0; i < 300; ++i)
    text += std::to_string(i * 0.004) + (i == 100 ? ",1e39\n" : i == 200 ? ",-9e99\n" : ",0.5\n");
  const Recording recording = read_recording(folder.write("a.csv", text));
  EXPECT_TRUE(warns(recording.warnings, "unreadable_lines"));
  for (const float sample : recording.channels[0].samples) EXPECT_FALSE(std::isinf(sample));
}

TEST(Plausible, ASampleBeyondAnySensorIsMissingAndTold) {
  const ScratchFolder folder;
  std::string text = "time_s,ecg_mV,marker\n";
  for (int i = 0; i < 3000; ++i)
    text += std::to_string(i * 0.004) + "," + (i == 700 ? "1e30" : std::to_string(std::sin(i * 0.1))) +
            (i == 900 ? ",5\n" : ",0\n");
  const Recording recording = read_recording(folder.write("a.csv", text));
  EXPECT_TRUE(std::isnan(recording.channels[0].samples[700]));
  EXPECT_FLOAT_EQ(recording.channels[1].samples[900], 5);  // an event in a channel without width stays
  const auto told = std::find_if(recording.warnings.begin(), recording.warnings.end(),
                                 [](const Warning& warning) { return warning.code == "implausible_samples"; });
  ASSERT_NE(told, recording.warnings.end());
  EXPECT_NE(told->message.find("'ecg'"), std::string::npos) << told->message;
  EXPECT_NE(told->message.find("2.800 s"), std::string::npos) << told->message;
}

/// An EDF file with one signal; `maximum` is its physical maximum and `seconds` the length of a data record.
std::string edf(const std::string& maximum, const std::string& seconds) {
  const auto field = [](std::string text, std::size_t width) {
    text.resize(width, ' ');
    return text;
  };
  return field("0", 8) + field("X X X X", 80) + field("Startdate X X X X", 80) + "02.03.24" + "10.11.12" +
         field("512", 8) + field("", 44) + field("3", 8) + field(seconds, 8) + field("1", 4) + field("ecg", 16) +
         field("", 80) + field("mV", 8) + field("-10", 8) + field(maximum, 8) + field("-1000", 8) + field("1000", 8) +
         field("", 80) + field("300", 8) + field("", 32) + std::string(1800, '\x01');
}

TEST(Plausible, AnEdfRangeOrRecordLengthThatNoRecordingHasIsRefused) {
  const ScratchFolder folder;
  EXPECT_EQ(read_recording(folder.write("good.edf", edf("10", "1"))).channels[0].samples.size(), 900u);
  expect_refusal([&] { return read_recording(folder.write("range.edf", edf("1e308", "1"))); }, unreadable, "range.edf");
  expect_refusal([&] { return read_recording(folder.write("slow.edf", edf("10", "99999999"))); }, unreadable,
                 "slow.edf", "3e-06 Hz", "no sampling rate");
}

}  // namespace
