#include <gtest/gtest.h>

#include "pulsewright/report.hpp"

namespace pulsewright {
namespace {

BeatTrain two_accepted_one_rejected() {
  BeatTrain train;
  train.duration = Seconds{10};
  train.unreadable = {{Seconds{4}, Seconds{6.5}}};
  train.source = BeatSource::pulse;
  train.candidates = {{Seconds{0.5}, SampleIndex{125}, 0.9876, BeatVerdict::accepted, BeatLabel::normal},
                      {Seconds{0.7}, SampleIndex{175}, 0.2, BeatVerdict::reflected, BeatLabel::unlabelled},
                      {Seconds{1.2345678}, SampleIndex{309}, 1.0, BeatVerdict::accepted, BeatLabel::normal}};
  return train;
}

TEST(BeatsCsv, HasARowForEachAcceptedBeat) {
  EXPECT_EQ(beats_csv(two_accepted_one_rejected()),
            "time_s,sample,confidence\n"
            "0.500000,125,0.988\n"
            "1.234568,309,1.000\n");
}

TEST(BeatsCsv, NamesTheVerdictOfEveryCandidateWhenAllAreAskedFor) {
  EXPECT_EQ(beats_csv(two_accepted_one_rejected(), {.rejected = true}),
            "time_s,sample,confidence,verdict\n"
            "0.500000,125,0.988,accepted\n"
            "0.700000,175,0.200,reflected\n"
            "1.234568,309,1.000,accepted\n");
}

TEST(BeatsCsv, SaysWhereUpstrokesBeginWhenFeetAreAskedForAndNothingWhereThereIsNone) {
  BeatTrain beats = two_accepted_one_rejected();
  beats.candidates[0].foot = Seconds{0.3104};
  EXPECT_EQ(beats_csv(beats, {.feet = true}),
            "time_s,sample,confidence,foot_s\n"
            "0.500000,125,0.988,0.310400\n"
            "1.234568,309,1.000,\n");
}

TEST(BeatsCsv, WritesForASpreadsheetWithDecimalCommas) {
  EXPECT_EQ(beats_csv(two_accepted_one_rejected(), {}, {',', ';'}),
            "time_s;sample;confidence\n0,500000;125;0,988\n1,234568;309;1,000\n");
}

TEST(ReadablePercent, IsTheShareOfTimeThatIsNotUnreadable) {
  EXPECT_DOUBLE_EQ(readable_percent(two_accepted_one_rejected()).value(), 75.0);
  EXPECT_FALSE(readable_percent(BeatTrain{}).has_value());
}

TEST(IntervalsCsv, KeepsTheOriginalAndLeavesTheCorrectionEmptyWhereThereIsNone) {
  Intervals intervals;
  intervals.intervals = {{Seconds{0.5}, Seconds{1.3}, 800, IntervalVerdict::normal, 800.0},
                         {Seconds{1.3}, Seconds{6.0}, 4700, IntervalVerdict::gap, std::nullopt}};
  EXPECT_EQ(intervals_csv(intervals),
            "start_s,end_s,original_ms,verdict,corrected_ms\n"
            "0.500000,1.300000,800.000,normal,800.000\n"
            "1.300000,6.000000,4700.000,gap,\n");
}

TEST(RateCsv, LeavesEveryCellOfAnUnmeasuredWindowEmpty) {
  RateSeries rates;
  rates.windows = {
      {{Seconds{0}, Seconds{8}},
       BeatsPerMinute{72.125},
       BeatsPerMinute{71},
       BeatsPerMinute{73.2},
       0.97,
       RateMethod::beats},
      {{Seconds{2}, Seconds{10}}, std::nullopt, std::nullopt, std::nullopt, std::nullopt, RateMethod::none}};
  rates.windows[1].guess =
      RateGuess{BeatsPerMinute{64}, BeatsPerMinute{40}, BeatsPerMinute{90.5}, 0.81, RateMethod::spectrum};
  EXPECT_EQ(rate_csv(rates),
            "start_s,end_s,bpm,low_bpm,high_bpm,confidence,method,"
            "guess_bpm,guess_low_bpm,guess_high_bpm,guess_confidence,guess_method\n"
            "0.000,8.000,72.13,71.00,73.20,0.970,beats,,,,,\n"
            "2.000,10.000,,,,,none,64.00,40.00,90.50,0.810,spectrum\n");
}

TEST(RecordingCsv, QuotesNamesThatHoldSeparatorsOrQuotes) {
  Recording recording;
  Channel channel;
  channel.name = "clip, \"left\"";
  channel.rate = Hertz{250};
  channel.samples = {1.5F, -2.0F};
  recording.channels.push_back(channel);
  EXPECT_EQ(recording_csv(recording),
            "channel,name,kind,unit,rate_hz,start_s,samples_count,missing_count,lowest,highest\n"
            "1,\"clip, \"\"left\"\"\",other,,250.000000,0.000000,2,0,-2.000000,1.500000\n");
}

// What spreadsheets take for a formula: common practice.
TEST(RecordingCsv, LetsNoNameBeAFormulaOfASpreadsheet) {
  Recording recording;
  for (const char* name : {"=1+2", "+cmd", "@sum", "-2+3", "-", "wren-2", "\tpulse"}) {
    recording.channels.emplace_back();
    recording.channels.back().name = name;
  }
  const std::string csv = recording_csv(recording);
  for (const char* cell : {",'=1+2,", ",'+cmd,", ",'@sum,", ",'-2+3,", ",-,", ",wren-2,"})
    EXPECT_NE(csv.find(cell), std::string::npos) << cell << " in\n" << csv;
}

TEST(EffortCsv, PrintsTimesThatSumToTheDurationDigitForDigit) {
  Effort effort;
  effort.duration_us = 61'000'001;
  effort.unmeasured_us = 1'000'001;
  effort.category_us = {10'000'000, 20'000'000, 30'000'000, 0, 0};
  const std::string csv = effort_csv(effort);
  EXPECT_NE(csv.find("\n,61.000001,1.000001,10.000000,20.000000,30.000000,0.000000,0.000000,,,,,"), std::string::npos)
      << csv;
}

TEST(BatchRow, SaysWhyARecordHasNoValue) {
  Analysis analysis;
  analysis.beats.duration = Seconds{30};
  analysis.beats.warnings = {{"flat", "the channel is flat"}};
  const BatchRow row = batch_row("heron.csv", analysis);
  EXPECT_EQ(row.status, BatchRow::Status::no_value);
  EXPECT_EQ(row.exit_code, 1);
  EXPECT_EQ(row.reason, "no beats anywhere: the channel is flat");
}

TEST(AgreementCsv, EndsAFolderWithTheGrossAndTheAverageOfTheRecords) {
  const auto record = [](const char* name, int tp, int fn) {
    BeatComparison comparison;
    comparison.agreement.name = name;
    comparison.agreement.true_positives = tp;
    comparison.agreement.false_negatives = fn;
    return comparison;
  };
  BeatComparisonTable table;
  table.records = {record("wren", 90, 10), record("heron", 1000, 0)};
  table.gross = record("gross", 1090, 10);
  const std::string csv = agreement_csv(table);
  // gross 1090 / 1100, average of 90 % and 100 %
  EXPECT_NE(csv.find("\ngross,1100,1090,10,0,99.091,"), std::string::npos) << csv;
  EXPECT_NE(csv.find("\naverage,,,,,95.000,"), std::string::npos) << csv;
}

}  // namespace
}  // namespace pulsewright
