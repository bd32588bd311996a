// The open record format, held against records that the tests write themselves.
#include <gtest/gtest.h>

#include <cmath>

#include "1_read/open_data.hpp"
#include "1_read/record_writer.hpp"
#include "1_read/refusal.hpp"
#include "pulsewright/read.hpp"

namespace {

using namespace pulsewright;
using namespace read_tests;

std::string line(const std::string& text) { return text + "\n"; }

/// A wave that uses the whole range of a coding of so many bits, without the lowest value.
std::vector<int> full_range(int bits, std::size_t count) {
  const double top = std::pow(2.0, bits - 1) - 1;
  std::vector<int> samples;
  for (std::size_t i = 0; i < count; ++i)
    samples.push_back(static_cast<int>(top * std::sin(0.37 * static_cast<double>(i))));
  samples[0] = static_cast<int>(top);
  samples[1] = -static_cast<int>(top);
  return samples;
}

struct CodingCase {
  int coding;
  int bits;
  std::int64_t invalid;
};

class EveryCoding : public testing::TestWithParam<CodingCase> {};

TEST_P(EveryCoding, RoundTripsTwoSignalsWithOddLengthAndChecksums) {
  const auto [coding, bits, invalid] = GetParam();
  const ScratchFolder folder;
  constexpr std::size_t frames = 3333;  // so that no coding ends on a whole group
  const std::vector<int> a = full_range(bits, frames);
  std::vector<int> b(a.rbegin(), a.rend());
  std::vector<int> frame_order;
  for (std::size_t i = 0; i < frames; ++i) {
    frame_order.push_back(a[i]);
    frame_order.push_back(b[i]);
  }
  folder.write("r.dat", encode(coding, frame_order));
  const std::string c = std::to_string(coding);
  folder.write("r.hea", line("r 2 250 3333") +
                            line("r.dat " + c + " 100/uV 12 0 0 " + std::to_string(checksum(a)) + " 0 one") +
                            line("r.dat " + c + " 100(7) 12 0 0 " + std::to_string(checksum(b)) + " 0 two words"));
  const Recording r = read_recording(folder.path() / "r");
  EXPECT_EQ(codes_of(r.warnings), "");
  ASSERT_EQ(r.channels.size(), 2u);
  EXPECT_EQ(r.channels[0].name, "one");
  EXPECT_EQ(r.channels[1].name, "two words");
  EXPECT_EQ(r.channels[0].unit, "uV");
  EXPECT_EQ(r.channels[1].unit, "mV");
  ASSERT_EQ(r.channels[0].samples.size(), frames);
  for (std::size_t i = 0; i < frames; ++i) {
    ASSERT_EQ(r.channels[0].samples[i], static_cast<float>(a[i] / 100.0)) << i;
    ASSERT_EQ(r.channels[1].samples[i], static_cast<float>((static_cast<double>(b[i]) - 7) / 100.0)) << i;
  }
}

TEST_P(EveryCoding, TurnsTheLowestValueIntoNaN) {
  const auto [coding, bits, invalid] = GetParam();
  const ScratchFolder folder;
  folder.write("r.dat", encode(coding, {5, static_cast<int>(invalid), static_cast<int>(invalid + 1), -3}));
  folder.write("r.hea", line("r 1 250 4") + line("r.dat " + std::to_string(coding) + " 1"));
  const Recording r = read_recording(folder.path() / "r");
  ASSERT_EQ(r.channels.size(), 1u);
  EXPECT_EQ(r.channels[0].samples[0], 5.0F);
  EXPECT_TRUE(std::isnan(r.channels[0].samples[1]));
  EXPECT_EQ(r.channels[0].samples[2], static_cast<float>(invalid + 1));
  EXPECT_EQ(r.channels[0].samples[3], -3.0F);
}

// Lowest values: signal(5) of the physionet.org manual.
INSTANTIATE_TEST_SUITE_P(Codings, EveryCoding,
                         testing::Values(CodingCase{16, 16, -32768}, CodingCase{24, 24, -8388608},
                                         CodingCase{32, 32, INT32_MIN}, CodingCase{61, 16, -32768},
                                         CodingCase{80, 8, -128}, CodingCase{160, 16, -32768},
                                         CodingCase{212, 12, -2048}, CodingCase{310, 10, -512},
                                         CodingCase{311, 10, -512}),
                         [](const auto& coding) { return "Coding" + std::to_string(coding.param.coding); });

TEST(OpenRecord, DecodesBytesWorkedOutByHand) {
  const ScratchFolder folder;
  // 212: the first bytes of record 100, E3 33 F3, are 0x3E3 = 995 and 0x3F3 = 1011
  folder.write("a.dat", std::string("\xE3\x33\xF3", 3));
  folder.write("a.hea", line("a 2 360 1") + line("a.dat 212 1") + line("a.dat 212 1"));
  const Recording a = read_recording(folder.path() / "a");
  EXPECT_EQ(a.channels[0].samples[0], 995.0F);
  EXPECT_EQ(a.channels[1].samples[0], 1011.0F);
  // 310: words 0x0802 and 0x0804 are 1 and 2, and top five bits 1 and 1, so 1 + 32 = 33
  folder.write("b.dat", std::string("\x02\x08\x04\x08", 4));
  folder.write("b.hea", line("b 3 360 1") + line("b.dat 310 1") + line("b.dat 310 1") + line("b.dat 310 1"));
  const Recording b = read_recording(folder.path() / "b");
  EXPECT_EQ(b.channels[0].samples[0], 1.0F);
  EXPECT_EQ(b.channels[1].samples[0], 2.0F);
  EXPECT_EQ(b.channels[2].samples[0], 33.0F);
  // 311: 1 + 2 * 2^10 + 1023 * 2^20 = 0x3FF00801, the last being -1
  folder.write("c.dat", std::string("\x01\x08\xF0\x3F", 4));
  folder.write("c.hea", line("c 3 360 1") + line("c.dat 311 1") + line("c.dat 311 1") + line("c.dat 311 1"));
  const Recording c = read_recording(folder.path() / "c");
  EXPECT_EQ(c.channels[0].samples[0], 1.0F);
  EXPECT_EQ(c.channels[1].samples[0], 2.0F);
  EXPECT_EQ(c.channels[2].samples[0], -1.0F);
}

TEST(OpenRecord, SumsDifferencesFromTheInitialValueOfEachSignal) {
  const ScratchFolder folder;
  folder.write("r.dat", encode(8, {0, 0, 3, -2, -5, 127, 1, -128}));
  // signal one: 10, 13, 8, 9; signal two: -4, -6, 121, -7
  folder.write("r.hea", line("r 2 100 4") +
                            line("r.dat 8 1 8 0 10 " + std::to_string(checksum({10, 13, 8, 9})) + " 0 one") +
                            line("r.dat 8 1 8 0 -4 " + std::to_string(checksum({-4, -6, 121, -7})) + " 0 two"));
  const Recording r = read_recording(folder.path() / "r");
  EXPECT_EQ(codes_of(r.warnings), "");
  EXPECT_EQ(r.channels[0].samples, (std::vector<float>{10, 13, 8, 9}));
  EXPECT_EQ(r.channels[1].samples, (std::vector<float>{-4, -6, 121, -7}));
}

TEST(OpenRecord, GivesSignalsWithSeveralSamplesAFrameTheirOwnRate) {
  const ScratchFolder folder;
  // a frame: one of slow, four of fast
  folder.write("r.dat", encode(16, {1, 10, 11, 12, 13, 2, 20, 21, 22, 23}));
  folder.write("r.hea",
               line("r 2 125 2") + line("r.dat 16 1 12 0 1 3 0 slow") + line("r.dat 16x4 1 12 0 10 132 0 fast"));
  const Recording r = read_recording(folder.path() / "r");
  EXPECT_EQ(codes_of(r.warnings), "");
  EXPECT_EQ(r.channels[0].rate, Hertz{125});
  EXPECT_EQ(r.channels[1].rate, Hertz{500});
  EXPECT_EQ(r.channels[0].samples, (std::vector<float>{1, 2}));
  EXPECT_EQ(r.channels[1].samples, (std::vector<float>{10, 11, 12, 13, 20, 21, 22, 23}));
  EXPECT_DOUBLE_EQ(r.duration.value(), 2 / 125.0);
}

TEST(OpenRecord, DropsSkewedSamplesAndSkipsTheByteOffset) {
  const ScratchFolder folder;
  folder.write("r.dat", "preamble" + encode(16, {1, 10, 2, 20, 3, 30, 4, 40}));
  folder.write("r.hea",
               line("r 2 100 4") + line("r.dat 16+8 1 12 0 1 10 0 a") + line("r.dat 16:1+8 1 12 0 10 100 0 b"));
  const Recording r = read_recording(folder.path() / "r");
  EXPECT_EQ(codes_of(r.warnings), "");  // the skewed sample is part of the checksum
  EXPECT_EQ(r.channels[0].samples, (std::vector<float>{1, 2, 3, 4}));
  ASSERT_EQ(r.channels[1].samples.size(), 4u);
  EXPECT_EQ(r.channels[1].samples[0], 20.0F);
  EXPECT_EQ(r.channels[1].samples[2], 40.0F);
  EXPECT_TRUE(std::isnan(r.channels[1].samples[3]));
}

TEST(OpenRecord, ReadsSignalsFromSeveralFiles) {
  const ScratchFolder folder;
  folder.write("x.dat", encode(16, {1, 2, 3}));
  folder.write("y.dat", encode(80, {4, 5, 6}));
  folder.write("r.hea", line("r 2 100 3") + line("x.dat 16 1") + line("y.dat 80 1"));
  const Recording r = read_recording(folder.path() / "r.hea");
  EXPECT_EQ(r.channels[0].samples, (std::vector<float>{1, 2, 3}));
  EXPECT_EQ(r.channels[1].samples, (std::vector<float>{4, 5, 6}));
  EXPECT_EQ(r.channels[0].name, "signal 1");
}

TEST(OpenRecord, TakesAnUnknownGainAs200PerMillivoltAndSaysSo) {
  const ScratchFolder folder;
  folder.write("r.dat", encode(16, {100, 300}));
  for (const char* gain : {"", " 0", " 0 12 100"}) {
    folder.write("r.hea", line("r 1 100 2") + line(std::string("r.dat 16") + gain));
    const Recording r = read_recording(folder.path() / "r");
    EXPECT_TRUE(warns(r.warnings, "gain_unknown")) << gain;
    EXPECT_EQ(r.channels[0].unit, "mV");
    // the ADC zero is the baseline where none is stated
    EXPECT_EQ(r.channels[0].samples[1], std::string(gain) == " 0 12 100" ? 1.0F : 1.5F);
  }
}

TEST(OpenRecord, ReadsRateDefaultsClockAndComments) {
  const ScratchFolder folder;
  folder.write("r.dat", encode(16, {1}));
  folder.write("r.hea", "# comment first\r\n\r\nr 1\r\n# another\r\nr.dat 16 1\r\n");
  EXPECT_EQ(read_recording(folder.path() / "r").channels[0].rate, Hertz{250});  // header(5): 250 where none is stated
  folder.write("r.hea", line("r 1 360/1000(0) 1 9:05:07.250 03/11/2024") + line("r.dat 16 1"));
  const Recording r = read_recording(folder.path() / "r");
  EXPECT_EQ(r.channels[0].rate, Hertz{360});
  EXPECT_EQ(r.clock_start, "2024-11-03T09:05:07.25");
  folder.write("r.hea", line("r 1 360 1 23:59") + line("r.dat 16 1"));
  EXPECT_EQ(read_recording(folder.path() / "r").clock_start, "00:23:59");
}

TEST(OpenRecord, TakesTheLengthFromTheFileWhenTheHeaderSaysZero) {
  const ScratchFolder folder;
  folder.write("r.dat", encode(16, {1, 2, 3, 4, 5}));
  for (const char* header : {"r 1 100 0", "r 1 100"}) {
    folder.write("r.hea", line(header) + line("r.dat 16 1"));
    EXPECT_EQ(read_recording(folder.path() / "r").channels[0].samples.size(), 5u);
  }
}

TEST(OpenRecord, AcceptsTheSignalFileInPlaceOfTheRecord) {
  const ScratchFolder folder;
  folder.write("r.dat", encode(16, {1, 2}));
  folder.write("r.hea", line("r 1 100 2") + line("r.dat 16 1"));
  EXPECT_EQ(read_recording(folder.path() / "r.dat").channels[0].samples.size(), 2u);
}

TEST(OpenRecord, RecognisesAHeaderWhateverItIsCalled) {
  const ScratchFolder folder;
  folder.write("r.dat", encode(16, {1, 2}));
  const auto path = folder.write("header.txt", line("r 1 100 2") + line("r.dat 16 1"));
  EXPECT_EQ(read_recording(path).provenance.format, "open-record");
}

TEST(OpenRecord, JoinsFixedSegmentsAndLeavesGapsAsNaN) {
  const ScratchFolder folder;
  folder.write("s1.dat", encode(16, {1, 10, 2, 20}));
  folder.write("s1.hea", line("s1 2 100 2") + line("s1.dat 16 1 12 0 1 3 0 a") + line("s1.dat 16 1 12 0 10 30 0 b"));
  folder.write("s2.dat", encode(16, {3, 30}));
  folder.write("s2.hea", line("s2 2 100 1") + line("s2.dat 16 1 12 0 3 3 0 a") + line("s2.dat 16 1 12 0 30 30 0 b"));
  folder.write("m.hea", line("m/3 2 100 6 10:00:00") + line("s1 2") + line("~ 3") + line("s2 1"));
  const Recording r = read_recording(folder.path() / "m");
  EXPECT_EQ(codes_of(r.warnings), "");
  EXPECT_EQ(r.clock_start, "10:00:00");
  ASSERT_EQ(r.channels.size(), 2u);
  ASSERT_EQ(r.channels[0].samples.size(), 6u);
  EXPECT_EQ(r.channels[0].samples[1], 2.0F);
  for (std::size_t i = 2; i < 5; ++i) EXPECT_TRUE(std::isnan(r.channels[1].samples[i]));
  EXPECT_EQ(r.channels[1].samples[5], 30.0F);
  EXPECT_DOUBLE_EQ(r.duration.value(), 0.06);
}

TEST(OpenRecord, FindsSignalsOfVariableSegmentsByTheirDescription) {
  const ScratchFolder folder;
  folder.write("layout.hea", line("layout 3 100 0") + line("~ 0 1 12 0 0 0 0 II") + line("~ 0 1 12 0 0 0 0 V") +
                                 line("~ 0 1 12 0 0 0 0 PLETH"));
  folder.write("s1.dat", encode(16, {1, 10, 2, 20}));
  folder.write("s1.hea",
               line("s1 2 100 2") + line("s1.dat 16 1 12 0 1 3 0 PLETH") + line("s1.dat 16 1 12 0 10 30 0 II"));
  folder.write("s2.dat", encode(16, {7}));
  folder.write("s2.hea", line("s2 1 100 1") + line("s2.dat 16 1 12 0 7 7 0 V"));
  folder.write("m.hea", line("m/3 3 100 3") + line("layout 0") + line("s1 2") + line("s2 1"));
  const Recording r = read_recording(folder.path() / "m");
  EXPECT_EQ(codes_of(r.warnings), "");
  ASSERT_EQ(r.channels.size(), 3u);
  EXPECT_EQ(r.channels[0].name, "II");
  EXPECT_EQ(r.channels[0].samples[1], 20.0F);
  EXPECT_TRUE(std::isnan(r.channels[0].samples[2]));
  EXPECT_TRUE(std::isnan(r.channels[1].samples[0]));
  EXPECT_EQ(r.channels[1].samples[2], 7.0F);
  EXPECT_EQ(r.channels[2].samples[0], 1.0F);
  EXPECT_EQ(r.channels[2].kind, ChannelKind::pulse);
}

TEST(OpenRecord, HashesTheHeaderAndThenTheSignalFiles) {
  const ScratchFolder folder;
  const std::string data = encode(16, {1, 2});
  const std::string header = line("r 1 100 2") + line("r.dat 16 1");
  folder.write("r.dat", data);
  folder.write("r.hea", header);
  const auto joined = folder.write("joined", header + data);
  EXPECT_EQ(read_recording(folder.path() / "r").provenance.sha256, sha256_of_file(joined));
  ReadOptions quick;
  quick.hash = false;
  EXPECT_EQ(read_recording(folder.path() / "r", quick).provenance.sha256, "");
}

TEST(OpenRecord, CropsToAStretchAndKeepsTimesFromTheStart) {
  const ScratchFolder folder;
  folder.write("r.dat", encode(16, {0, 1, 2, 3, 4, 5, 6, 7, 8, 9}));
  folder.write("r.hea", line("r 1 10 10") + line("r.dat 16 1"));
  ReadOptions options;
  options.start = Seconds{0.3};
  options.end = Seconds{0.7};
  const Recording r = read_recording(folder.path() / "r", options);
  EXPECT_EQ(r.channels[0].samples, (std::vector<float>{3, 4, 5, 6}));
  EXPECT_NEAR(r.channels[0].start.value(), 0.3, 1e-12);
  EXPECT_NEAR(r.duration.value(), 0.7, 1e-12);
  options.start = Seconds{0.8};
  expect_refusal([&] { return read_recording(folder.path() / "r", options); }, ErrorCode::usage, "0.8 s", "0.7 s");
  options.end = std::nullopt;
  options.start = Seconds{5};
  expect_refusal([&] { return read_recording(folder.path() / "r", options); }, ErrorCode::usage, "lasts 1 s");
}

}  // namespace
