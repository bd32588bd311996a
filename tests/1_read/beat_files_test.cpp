// Beat times, intervals and spans in the small files that stand beside recordings.
#include <gtest/gtest.h>

#include "1_read/open_data.hpp"
#include "1_read/refusal.hpp"
#include "pulsewright/read.hpp"

namespace {

using namespace pulsewright;
using namespace read_tests;

TEST(BeatFiles, TakeTheRateFromTheHeaderBesideAnAnnotationFile) {
  const ScratchFolder folder;
  folder.write("r.hea", "r 1 200 2000\nr.dat 16 1\n");
  const auto path =
      folder.write("r.ann", annotation_bytes({{SampleIndex{100}, 1, 0, 0, 0, {}}, {SampleIndex{300}, 5, 0, 0, 0, {}}}));
  const BeatFile file = read_beats(path, Hertz{999});
  ASSERT_EQ(file.beats.candidates.size(), 2u);
  EXPECT_DOUBLE_EQ(file.beats.candidates[1].time.value(), 1.5);
  EXPECT_EQ(file.beats.candidates[1].sample, SampleIndex{300});
  EXPECT_EQ(file.beats.candidates[1].label, BeatLabel::ventricular);
  EXPECT_EQ(file.beats.candidates[1].confidence, 1.0);
  EXPECT_DOUBLE_EQ(file.beats.duration.value(), 10.0);
  EXPECT_EQ(file.beats.source, BeatSource::file);
}

TEST(BeatFiles, NeedARateWhenNothingStatesOne) {
  const ScratchFolder folder;
  const auto annotations = folder.write("r.atr", annotation_bytes({{SampleIndex{100}, 1, 0, 0, 0, {}}}));
  expect_refusal([&] { return read_beats(annotations); }, ErrorCode::usage, "r.atr", "state the rate");
  EXPECT_DOUBLE_EQ(read_beats(annotations, Hertz{50}).beats.candidates[0].time.value(), 2.0);
  const auto numbers = folder.write("peaks.txt", "10\n20\n");
  expect_refusal([&] { return read_beats(numbers); }, ErrorCode::usage, "peaks.txt", "state the rate");
  expect_refusal([&] { return read_beats(numbers, Hertz{0}); }, ErrorCode::usage, "above 0");
}

TEST(BeatFiles, FollowTheTimeResolutionAnAnnotationFileStates) {
  const ScratchFolder folder;
  const auto path = folder.write("r.atr", annotation_bytes({{SampleIndex{0}, 22, 0, 0, 0, "## time resolution: 1000"},
                                                            {SampleIndex{500}, 1, 0, 0, 0, {}}}));
  EXPECT_DOUBLE_EQ(read_beats(path).beats.candidates[0].time.value(), 0.5);
}

TEST(BeatFiles, KeepFlutterEpisodesApart) {
  const ScratchFolder folder;
  const auto path = folder.write("r.atr", annotation_bytes({{SampleIndex{10}, 33, 0, 0, 0, {}},
                                                            {SampleIndex{20}, 1, 0, 0, 0, {}},
                                                            {SampleIndex{30}, 32, 0, 0, 0, {}},
                                                            {SampleIndex{35}, 31, 0, 0, 0, {}},
                                                            {SampleIndex{40}, 33, 0, 0, 0, {}},
                                                            {SampleIndex{50}, 1, 0, 0, 0, {}},
                                                            {SampleIndex{60}, 32, 0, 0, 0, {}},
                                                            {SampleIndex{65}, 31, 0, 0, 0, {}},
                                                            {SampleIndex{70}, 1, 0, 0, 0, {}}}));
  const BeatFile file = read_beats(path, Hertz{10});
  EXPECT_EQ(file.beats.candidates.size(), 3u);
  ASSERT_EQ(file.flutter.size(), 3u);
  EXPECT_EQ(file.flutter[0], (Span{Seconds{0}, Seconds{1}}));  // under way at the start
  EXPECT_EQ(file.flutter[1], (Span{Seconds{3}, Seconds{4}}));
  EXPECT_EQ(file.flutter[2], (Span{Seconds{6}, Seconds{7}}));  // to the end
}

TEST(BeatFiles, ReadTheTableThatTheCommandBeatsWrites) {
  const ScratchFolder folder;
  const auto path = folder.write("beats.csv",
                                 "time_s,sample,confidence,verdict\n0.500000,180,0.98,accepted\n0.700000,252,0.30,too_"
                                 "soon\n1.300000,468,0.99,accepted\n");
  const BeatFile file = read_beats(path);
  ASSERT_EQ(file.beats.candidates.size(), 3u);
  EXPECT_DOUBLE_EQ(file.beats.candidates[0].time.value(), 0.5);
  EXPECT_EQ(file.beats.candidates[0].sample, SampleIndex{180});
  EXPECT_DOUBLE_EQ(file.beats.candidates[1].confidence, 0.30);
  EXPECT_EQ(file.beats.candidates[1].verdict, BeatVerdict::too_soon);
  EXPECT_DOUBLE_EQ(file.beats.duration.value(), 1.3);
}

TEST(BeatFiles, ReadATableWithASpreadsheetsDecimalComma) {
  const ScratchFolder folder;
  const auto path = folder.write("beats.csv", "\xef\xbb\xbftime_s;label\r\n0,5;normal\r\n1,25;ventricular\r\n");
  const BeatFile file = read_beats(path, Hertz{100});
  ASSERT_EQ(file.beats.candidates.size(), 2u);
  EXPECT_DOUBLE_EQ(file.beats.candidates[1].time.value(), 1.25);
  EXPECT_EQ(file.beats.candidates[1].sample, SampleIndex{125});
  EXPECT_EQ(file.beats.candidates[1].label, BeatLabel::ventricular);
}

TEST(BeatFiles, SortBeatsAndDropRepeatedOnesWithWarnings) {
  const ScratchFolder folder;
  const auto path = folder.write("beats.csv", "time_s\n2\n1\n1\n");
  const BeatFile file = read_beats(path);
  EXPECT_EQ(file.beats.candidates.size(), 2u);
  EXPECT_EQ(codes_of(file.beats.warnings), "beats_out_of_order beats_repeated");
}

TEST(BeatFiles, RefuseBadCellsByLineColumnAndRule) {
  const ScratchFolder folder;
  const auto refused = [&](const std::string& text, const auto&... pieces) {
    const auto path = folder.write("beats.csv", text);
    expect_refusal([&] { return read_beats(path, Hertz{100}); }, ErrorCode::unreadable, "beats.csv", pieces...);
  };
  refused("", "is empty");
  refused("bpm,window\n60,1\n", ":1:", "time_s or sample");
  refused("time_s\n1\ntwo\n", ":3:", "column 'time_s'", "value 'two'");
  refused("time_s\n-1\n", ":2:", "value '-1'");
  refused("time_s,verdict\n1,splendid\n", ":2:", "value 'splendid'", "too_soon");
  refused("10\n20.5\n", ":2:", "value '20.5'", "whole number");
  refused("10\nx\n", ":2:", "value 'x'");
}

TEST(BeatFiles, ReadTheListingsOfTheWristRecordings) {
  const auto data = open_data("exercise_wrist");
  if (!data) GTEST_SKIP() << "skipped: the wrist recordings are not here";
  const BeatFile file = read_beats(*data / "s3_run.txt");
  // Counted with awk: rows whose third column is N; the first is at sample 10 of 256 Hz.
  EXPECT_EQ(file.beats.candidates.size(), 565u);
  EXPECT_EQ(file.beats.candidates[0].sample, SampleIndex{10});
  EXPECT_DOUBLE_EQ(file.beats.candidates[0].time.value(), 10 / 256.0);
  EXPECT_EQ(codes_of(file.beats.warnings), "");
}

TEST(BeatFiles, ReadTheSampleNumbersOfTheAnaesthesiaRecordings) {
  const auto data = open_data("anaesthesia_pulse");
  if (!data) GTEST_SKIP() << "skipped: the anaesthesia recordings are not here";
  const BeatFile file = read_beats(*data / "0016_ecg_peaks.txt", Hertz{300});
  EXPECT_EQ(file.beats.candidates.size(), 1011u);  // lines of the file
  EXPECT_DOUBLE_EQ(file.beats.candidates[0].time.value(), 18 / 300.0);
  const auto spans = read_spans(*data / "0016_pulse_artefact_spans.txt", Hertz{300});
  ASSERT_EQ(spans.size(), 2u);
  EXPECT_DOUBLE_EQ(spans[0].start.value(), 4519 / 300.0);
  EXPECT_DOUBLE_EQ(spans[0].end.value(), 5940 / 300.0);  // the last sample belongs to the span
}

TEST(Intervals, BecomeBeatsFromZero) {
  const ScratchFolder folder;
  const auto path = folder.write("rr.txt", "RR_ms\n800, 810\n790\t860\n");
  const BeatTrain train = read_intervals(path, IntervalUnit::milliseconds);
  ASSERT_EQ(train.candidates.size(), 5u);
  EXPECT_DOUBLE_EQ(train.candidates[0].time.value(), 0.0);
  EXPECT_DOUBLE_EQ(train.candidates[2].time.value(), 1.61);
  EXPECT_DOUBLE_EQ(train.duration.value(), 3.26);
  EXPECT_EQ(train.source, BeatSource::intervals);
  const auto seconds = folder.write("rr_s.txt", "0.8\n0.75\n");
  EXPECT_DOUBLE_EQ(read_intervals(seconds, IntervalUnit::seconds).duration.value(), 1.55);
}

TEST(Intervals, RefuseTextZeroAndNegativeValuesByLine) {
  const ScratchFolder folder;
  const auto refused = [&](const std::string& text, const auto&... pieces) {
    const auto path = folder.write("rr.txt", text);
    expect_refusal([&] { return read_intervals(path, IntervalUnit::milliseconds); }, ErrorCode::unreadable, "rr.txt",
                   pieces...);
  };
  refused("", "no intervals");
  refused("800\nabc\n", ":2:", "value 'abc'");
  refused("800\n0\n", ":2:", "value '0'", "longer than 0");
  refused("800\n810 -5\n", ":2:", "value '-5'");
  refused("800\nnan\n", ":2:", "value 'nan'");
}

TEST(Spans, AreSortedAndCheckedByLine) {
  const ScratchFolder folder;
  const auto spans = read_spans(folder.write("spans.txt", "start_s,end_s\n5,6\n1.5,2\n"), std::nullopt);
  ASSERT_EQ(spans.size(), 2u);
  EXPECT_EQ(spans[0], (Span{Seconds{1.5}, Seconds{2}}));
  EXPECT_TRUE(read_spans(folder.write("none.txt", ""), std::nullopt).empty());
  const auto reversed = folder.write("reversed.txt", "1 2\n5 4\n");
  expect_refusal([&] { return read_spans(reversed, std::nullopt); }, ErrorCode::unreadable, "reversed.txt:2");
  const auto single = folder.write("single.txt", "1 2\n5\n");
  expect_refusal([&] { return read_spans(single, Hertz{10}); }, ErrorCode::unreadable, "single.txt:2",
                 "first and last sample");
}

TEST(Hashes, AgreeWithTheStandardsExamples) {
  const ScratchFolder folder;
  // Source: FIPS 180-4 example "abc"; the empty message from NIST's test vectors [both from memory, checked with sha256sum]
  EXPECT_EQ(sha256_of_file(folder.write("abc", "abc")),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  EXPECT_EQ(sha256_of_file(folder.write("empty", "")),
            "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

TEST(FindChannel, PicksByNameAndPosition) {
  Recording r;
  for (const char* name : {"ecg", "2", "acc", "acc"}) {
    Channel c;
    c.name = name;
    r.channels.push_back(c);
  }
  EXPECT_EQ(find_channel(r, "ecg"), 0u);
  EXPECT_EQ(find_channel(r, " ecg "), 0u);
  EXPECT_EQ(find_channel(r, "1"), 0u);
  EXPECT_EQ(find_channel(r, "2"), 1u);  // the name wins
  EXPECT_EQ(find_channel(r, "#2"), 1u);
  EXPECT_EQ(find_channel(r, "3"), 2u);
  EXPECT_EQ(find_channel(r, "#4"), 3u);
  expect_refusal([&] { return find_channel(r, "acc"); }, ErrorCode::usage, "more than one", "#3 'acc', #4 'acc'");
  expect_refusal([&] { return find_channel(r, "ECG"); }, ErrorCode::usage, "'ECG'", "#1 'ecg'");
  expect_refusal([&] { return find_channel(r, "5"); }, ErrorCode::usage, "1 to 4");
  expect_refusal([&] { return find_channel(r, "#0"); }, ErrorCode::usage, "1 to 4");
}

}  // namespace
