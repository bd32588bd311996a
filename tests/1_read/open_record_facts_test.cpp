// Facts of the MIT-BIH Arrhythmia Database that any reader of the open record format must reproduce.
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <map>

#include "1_read/open_data.hpp"
#include "pulsewright/read.hpp"

namespace {

using namespace pulsewright;
using read_tests::open_data;

TEST(OpenRecordFacts, Record100HasItsRateLengthAndFirstSamples) {
  const auto folder = open_data("arrhythmia");
  if (!folder) GTEST_SKIP() << "skipped: the arrhythmia records are not here";
  const Recording r = read_recording(*folder / "100");
  // Source: the record's own header, 100.hea; first samples 995 and 1011, zero 1024, 200 steps/mV.
  ASSERT_EQ(r.channels.size(), 2u);
  EXPECT_EQ(r.channels[0].name, "MLII");
  EXPECT_EQ(r.channels[1].name, "V5");
  for (const Channel& c : r.channels) {
    EXPECT_EQ(c.rate, Hertz{360});
    EXPECT_EQ(c.samples.size(), 650000u);
    EXPECT_EQ(c.unit, "mV");
    EXPECT_EQ(c.kind, ChannelKind::ecg);
    EXPECT_TRUE(c.times.empty());
  }
  EXPECT_EQ(r.channels[0].samples[0], -0.145F);
  EXPECT_EQ(r.channels[1].samples[0], -0.065F);
  EXPECT_DOUBLE_EQ(r.duration.value(), 650000.0 / 360.0);
  EXPECT_TRUE(r.warnings.empty());
  EXPECT_EQ(r.provenance.format, "open-record");
  EXPECT_EQ(r.provenance.input, "100");
}

TEST(OpenRecordFacts, ChecksumsOfAll48RecordsVerify) {
  const auto folder = open_data("arrhythmia");
  if (!folder) GTEST_SKIP() << "skipped: the arrhythmia records are not here";
  int records = 0;
  for (const auto& entry : std::filesystem::directory_iterator(*folder)) {
    if (entry.path().extension() != ".hea") continue;
    const Recording r = read_recording(entry.path(), {.hash = false});
    ++records;
    for (const Warning& w : r.warnings) ADD_FAILURE() << w.code << ": " << w.message;
    EXPECT_EQ(r.channels.size(), 2u);
  }
  EXPECT_EQ(records, 48);
}

TEST(OpenRecordFacts, The48RecordsHold109494Beats) {
  const auto folder = open_data("arrhythmia");
  if (!folder) GTEST_SKIP() << "skipped: the arrhythmia records are not here";
  std::map<std::string, std::size_t> beats;
  std::size_t total = 0;
  for (const auto& entry : std::filesystem::directory_iterator(*folder)) {
    if (entry.path().extension() != ".atr") continue;
    const BeatFile file = read_beats(entry.path());
    beats[entry.path().stem().string()] = file.beats.candidates.size();
    total += file.beats.candidates.size();
    EXPECT_TRUE(file.beats.warnings.empty()) << entry.path();
    EXPECT_DOUBLE_EQ(file.beats.duration.value(), 650000.0 / 360.0);
  }
  // Source: total as used by Zhu & Dong 2013 and Park et al. 2017; records 100, 207 and 208 as in the database's table of beats.
  EXPECT_EQ(total, 109494u);
  EXPECT_EQ(beats["100"], 2273u);
  EXPECT_EQ(beats["207"], 1860u);
  EXPECT_EQ(beats["208"], 2955u);
}

TEST(OpenRecordFacts, Record207HasFlutterEpisodesThatAreNotBeats) {
  const auto folder = open_data("arrhythmia");
  if (!folder) GTEST_SKIP() << "skipped: the arrhythmia records are not here";
  const BeatFile file = read_beats(*folder / "207.atr");
  const auto annotations = read_annotations(*folder / "207.atr");
  std::size_t starts = 0;
  for (const Annotation& a : annotations) starts += a.code == 32;
  EXPECT_GT(starts, 0u);
  ASSERT_EQ(file.flutter.size(), starts);
  for (const Span& span : file.flutter) {
    EXPECT_LT(span.start, span.end);
    for (const Beat& beat : file.beats.candidates) EXPECT_FALSE(span.start < beat.time && beat.time < span.end);
  }
}

}  // namespace
