// Delimited text as microcontrollers and loggers write it.
#include <gtest/gtest.h>

#include <algorithm>
#include <clocale>
#include <cmath>
#include <cstdint>
#include <cstdlib>

#include "1_read/open_data.hpp"
#include "1_read/refusal.hpp"
#include "pulsewright/read.hpp"

namespace {

using namespace pulsewright;
using namespace read_tests;

/// Reads a text; `rate` 0 states none.
Recording read_text(const std::string& text, double rate = 0) {
  const ScratchFolder folder;
  ReadOptions options;
  if (rate > 0) options.rate = Hertz{rate};
  return read_recording(folder.write("log.csv", text), options);
}

/// Names, units, kinds and rates of the channels in one line.
std::string summary(const Recording& r) {
  std::string text;
  for (const Channel& c : r.channels)
    text += (text.empty() ? "" : "; ") + c.name + " [" + c.unit + "] " + to_string(c.kind);
  return text;
}

// The C library's reader says what each number is.
TEST(Text, NumbersOfAnyLengthAreTheNearestFloat) {
  std::uint64_t state = 1;
  const auto below = [&state](std::uint64_t n) {
    state = state * 6364136223846793005U + 1442695040888963407U;
    return (state >> 33) % n;
  };
  std::string text = "ecg,ppg\n";
  std::vector<float> expected;
  for (int row = 0; row < 5000; ++row) {
    for (const char* end : {",", "\n"}) {
      std::string number = below(2) ? "-" : "";
      const std::uint64_t whole = 1 + below(20), decimals = below(20);
      for (std::uint64_t i = 0; i < whole; ++i) number += static_cast<char>('0' + below(10));
      if (decimals > 0) number += '.';
      for (std::uint64_t i = 0; i < decimals; ++i) number += static_cast<char>('0' + below(10));
      if (below(8) == 0) number += "e-3";
      expected.push_back(static_cast<float>(std::strtod(number.c_str(), nullptr)));
      text += number + end;
    }
  }
  const Recording r = read_text(text, 100);
  ASSERT_EQ(r.channels.size(), 2u);
  for (std::size_t i = 0; i < expected.size(); ++i)
    ASSERT_EQ(r.channels[i % 2].samples[i / 2], expected[i]) << "row " << i / 2;
}

TEST(Text, ZeroBytesOfASerialLineThatOpensAreIgnoredAndTold) {
  const std::string rows = "time_s,ppg\n0.00,512\n0.01,514\n0.02,513\n";
  const Recording whole = read_text(rows), opened = read_text(std::string(3, '\0') + rows);
  EXPECT_EQ(codes_of(opened.warnings), "zero_bytes_at_start");
  ASSERT_EQ(opened.channels.size(), 1u);
  EXPECT_EQ(opened.channels[0].samples, whole.channels[0].samples);
  const Recording labelled = read_text(std::string(2, '\0') + "IR:512,Red:519\nIR:513,Red:520\nIR:514,Red:521\n", 50);
  EXPECT_EQ(codes_of(labelled.warnings), "zero_bytes_at_start");
  EXPECT_EQ(labelled.channels.at(0).samples.size(), 3u);
  EXPECT_THROW(read_text(std::string(65, '\0') + rows), Error);
  EXPECT_THROW(read_text(std::string(3, '\0')), Error);
}

TEST(Text, ReadsCommaSemicolonTabAndBlanksAlike) {
  for (const std::string d : {",", ";", "\t", " ", ", ", "   ", " ; "}) {
    const Recording r = read_text("time_s" + d + "ecg" + d + "ppg\n0.00" + d + "1" + d + "-4\n0.01" + d + "2.5" + d +
                                  "5e1\n0.02" + d + "+3" + d + "6\n");
    EXPECT_EQ(codes_of(r.warnings), "") << d;
    ASSERT_EQ(r.channels.size(), 2u) << "delimiter '" << d << "'";
    EXPECT_EQ(r.channels[0].name, "ecg");
    EXPECT_EQ(r.channels[0].rate, Hertz{100});
    EXPECT_EQ(r.channels[0].samples, (std::vector<float>{1, 2.5F, 3})) << d;
    EXPECT_EQ(r.channels[1].samples, (std::vector<float>{-4, 50, 6})) << d;
    EXPECT_DOUBLE_EQ(r.duration.value(), 0.03);
    EXPECT_EQ(r.provenance.format, "text");
  }
}

TEST(Text, ReadsDecimalCommas) {
  const Recording semicolon = read_text("t [s];ecg\n0,00;1,5\n0,01;-2,25\n0,02;3\n");
  EXPECT_EQ(semicolon.channels[0].samples, (std::vector<float>{1.5F, -2.25F, 3}));
  EXPECT_EQ(semicolon.channels[0].rate, Hertz{100});
  const Recording single = read_text("ecg\n1,5\n2,5\n", 50);
  ASSERT_EQ(single.channels.size(), 1u);
  EXPECT_EQ(single.channels[0].samples, (std::vector<float>{1.5F, 2.5F}));
  const Recording quoted = read_text("\"time_s\",\"ecg\"\n\"0,00\",\"1,5\"\n\"0,01\",\"2,5\"\n\"0,02\",\"3,5\"\n");
  EXPECT_EQ(quoted.channels[0].samples, (std::vector<float>{1.5F, 2.5F, 3.5F}));
}

TEST(Text, ReadsLinesSavedFromASerialLine) {
  std::string stamped, labelled, both;
  for (int i = 0; i < 40; ++i) {
    const std::string clock = "10:00:0" + std::to_string(i / 10) + "." + std::to_string(i % 10) + "00";
    const std::string ir = std::to_string(512 + i), red = std::to_string(400 - i);
    stamped += clock + " -> " + ir + "\r\n";
    labelled += "IR:" + ir + ",Red:" + red + "\n";
    both += clock + " -> IR = " + ir + "\tRed = " + red + "\n";
  }
  const Recording with_times = read_text(stamped);
  ASSERT_EQ(with_times.channels.size(), 1u);
  EXPECT_NEAR(with_times.channels[0].rate.value(), 10, 1e-9);
  EXPECT_EQ(with_times.clock_start, "10:00:00");
  EXPECT_EQ(with_times.channels[0].samples[39], 551.0F);

  const Recording with_labels = read_text(labelled, 100);
  EXPECT_EQ(summary(with_labels), "IR [] pulse; Red [] pulse");
  EXPECT_EQ(with_labels.channels[1].samples[1], 399.0F);

  const Recording with_both = read_text(both);
  EXPECT_EQ(summary(with_both), "IR [] pulse; Red [] pulse");
  EXPECT_NEAR(with_both.channels[1].rate.value(), 10, 1e-9);
}

TEST(Text, TakesALineOfASerialLogWithoutAValueForASampleThatWasNotRecorded) {
  std::string stamped, labelled;
  for (int i = 0; i < 60; ++i) {
    const bool lost = i >= 10 && i < 50;
    const std::string clock = "10:00:0" + std::to_string(i / 10) + "." + std::to_string(i % 10) + "00";
    stamped += clock + " -> " + (lost ? "" : std::to_string(512 + i)) + "\n";
    labelled += "IR:" + (lost ? "" : std::to_string(512 + i)) + ",Red:" + std::to_string(400 - i) + "\n";
  }
  for (const Recording& r : {read_text(stamped), read_text(labelled, 10)}) {
    ASSERT_EQ(r.channels.front().samples.size(), 60u);
    EXPECT_EQ(r.channels.front().samples[9], 521.0F);
    EXPECT_TRUE(std::isnan(r.channels.front().samples[10]));
    EXPECT_EQ(r.channels.front().samples[50], 562.0F);
  }
}

TEST(Text, PutsLabelledValuesWhereTheirLabelBelongs) {
  std::string text = "sensor found\n";
  for (int i = 0; i < 300; ++i)
    text += i % 3 ? "ir:" + std::to_string(i) + " red:" + std::to_string(-i) + "\n"
                  : "red:" + std::to_string(-i) + " ir:" + std::to_string(i) + "\n";
  text.insert(text.find("ir:7 "), "ir:7 r\n");  // a line that broke off
  const Recording r = read_text(text, 50);
  ASSERT_EQ(r.channels.size(), 2u);
  EXPECT_EQ(r.channels[0].samples.size(), 301u);
  EXPECT_TRUE(std::isnan(r.channels[0].samples[7]));
  for (const std::size_t i : {0U, 1U, 5U}) {
    EXPECT_EQ(r.channels[0].samples[i], static_cast<float>(i));
    EXPECT_EQ(r.channels[1].samples[i], -static_cast<float>(i));
  }
  EXPECT_NE(codes_of(r.warnings).find("unreadable_lines"), std::string::npos);
}

TEST(Text, AsksForARateWhereLabelledLinesHaveNone) {
  EXPECT_THROW((void)read_text("IR:512\nIR:513\nIR:514\n"), Error);
  EXPECT_THROW((void)read_text("Note: nothing\nName: wren\nDay: Monday\n"), Error);
}

TEST(Text, ReadsByteOrderMarkCarriageReturnsAndQuotes) {
  const Recording r = read_text("\xef\xbb\xbf\"time_s\",\"my, ecg\"\r\n0,1\r\n0.5,2\r\n1.0,3\r\n");
  ASSERT_EQ(r.channels.size(), 1u);
  EXPECT_EQ(r.channels[0].name, "my, ecg");
  EXPECT_EQ(r.channels[0].samples, (std::vector<float>{1, 2, 3}));
}

TEST(Text, NeedsNoHeader) {
  const Recording r = read_text("512\n515\n520\n", 125);
  EXPECT_EQ(summary(r), "column 1 [] other");
  EXPECT_EQ(r.channels[0].samples.size(), 3u);
  const Recording two = read_text("1,5\n3,4\n2,2\n", 100);
  EXPECT_EQ(summary(two), "column 1 [] other; column 2 [] other");
}

TEST(Text, SkipsJunkAndCommentsAndFindsTheStatedRate) {
  const Recording r = read_text(
      "Heron clip v2, built 2024\nBoot ok\n# rate 125 Hz\n\nppg,button\n512,0\n# a note in between\n513,0\n\n514,1\n");
  EXPECT_EQ(summary(r), "ppg [] pulse; button [] marker");
  EXPECT_EQ(r.channels[0].rate, Hertz{125});
  EXPECT_EQ(r.channels[0].samples.size(), 3u);
  EXPECT_EQ(codes_of(r.warnings), "");
}

TEST(Text, UnderstandsWaysToStateARate) {
  const auto rate_of = [](const std::string& line) {
    return read_text(line + "\necg\n1\n2\n3\n").channels[0].rate.value();
  };
  EXPECT_EQ(rate_of("# rate 125 Hz"), 125);
  EXPECT_EQ(rate_of("Sampling rate: 250"), 250);
  EXPECT_EQ(rate_of("% fs = 62.5"), 62.5);
  EXPECT_EQ(rate_of("sample_rate_hz=500"), 500);
  EXPECT_EQ(rate_of("Sampling frequency (Hz): 128"), 128);
  EXPECT_EQ(rate_of("# rate 1 kHz"), 1000);
  const auto none = refusal_of([] { return read_text("# heart rate 72 bpm\necg\n1\n2\n3\n"); });
  EXPECT_EQ(none.code, ErrorCode::usage) << none.message;
  EXPECT_NE(none.message.find("give the rate in Hz"), std::string::npos);
}

TEST(Text, ReadsUnitsFromBracketsSuffixesAndASecondHeaderLine) {
  EXPECT_EQ(summary(read_text("time_ms,ecg [mV],pleth (counts),acc_x_g,lead_V,rot "
                              "(x),gyro_z_dps\n0,1,1,1,1,1,1\n8,1,1,1,1,1,1\n16,1,1,1,1,1,1\n")),
            "ecg [mV] ecg; pleth [counts] pulse; acc_x_g [g] acceleration; lead_V [] ecg; rot (x) [] other; gyro_z_dps "
            "[dps] gyro");
  EXPECT_EQ(summary(read_text("time\tecg\tspeed\ns\tmV\tm/s\n0\t1\t1\n0.01\t1\t1\n0.02\t1\t1\n")),
            "ecg [mV] ecg; speed [m/s] other");
  EXPECT_EQ(summary(read_text("time\tecg\nms\tmV\n0\t1\n8\t1\n16\t1\n")), "ecg [mV] ecg");
}

TEST(Text, TellsKindsFromNamesUnitsAndRates) {
  EXPECT_EQ(summary(read_text("Time [s], RESP, PLETH, V, AVR, II\n0,1,1,1,1,1\n0.008,1,1,1,1,1\n0.016,1,1,1,1,1\n")),
            "RESP [] respiration; PLETH [] pulse; V [] ecg; AVR [] ecg; II [] ecg");
  EXPECT_EQ(summary(read_text("Time [s], HR, PULSE, SpO2\n0,1,1,1\n1,1,1,1\n2,1,1,1\n")),
            "HR [] other; PULSE [] other; SpO2 [] other");
  EXPECT_EQ(summary(read_text("co2_y,pleth_y,ecg_y\n1,1,1\n1,1,1\n", 300)),
            "co2_y [] respiration; pleth_y [] pulse; ecg_y [] ecg");
  EXPECT_EQ(summary(read_text("ir,red,green,pulse_1,MLII,V5,EKG,ax,x [g],w "
                              "[dps],event,emg\n1,1,1,1,1,1,1,1,1,1,1,1\n1,1,1,1,1,1,1,1,1,1,1,1\n",
                              100)),
            "ir [] pulse; red [] pulse; green [] pulse; pulse_1 [] pulse; MLII [] ecg; V5 [] ecg; EKG [] ecg; ax [] "
            "acceleration; "
            "x [g] acceleration; w [dps] gyro; event [] marker; emg [] other");
}

TEST(Text, TellsKindsFromGermanFrenchAndSpanishNames) {
  const std::string row = "1,1,1,1,1,1,1,1,1\n";
  EXPECT_EQ(summary(read_text("Puls,EKG,Herz,Finger,rot,Licht,IR,Herz [mV],Umgebung\n" + row + row, 100)),
            "Puls [] pulse; EKG [] ecg; Herz [] pulse; Finger [] pulse; rot [] pulse; Licht [] pulse; IR [] pulse; "
            "Herz [mV] ecg; Umgebung [] other");
  EXPECT_EQ(
      summary(
          read_text("rouge,lumi\xc3\xa8re,pouls,rojo,luz,gr\xc3\xbcn,Beschleunigung,Atmung,verde\n" + row + row, 100)),
      "rouge [] pulse; lumi\xc3\xa8re [] pulse; pouls [] pulse; rojo [] pulse; luz [] pulse; gr\xc3\xbcn [] pulse; "
      "Beschleunigung [] acceleration; Atmung [] respiration; verde [] pulse");
  // what a monitor worked out is no wave, at any rate of rows
  EXPECT_EQ(
      summary(read_text("heart rate,pulse_bpm,finger temp,Puls Frequenz,rot_x,ambient light,a,b,c\n" + row + row, 100)),
      "heart rate [] other; pulse_bpm [bpm] other; finger temp [] other; Puls Frequenz [] other; rot_x [] other; "
      "ambient light [] other; a [] other; b [] other; c [] other");
}

TEST(Text, SaysWhyNothingNamedAsAHeartChannelCanBeSearched) {
  const auto noted = [](const std::string& text) {
    const Recording r = read_text(text);
    const auto found =
        std::find_if(r.warnings.begin(), r.warnings.end(), [](const Warning& w) { return w.code == "no_wave"; });
    return found == r.warnings.end() ? std::string{} : found->message;
  };
  EXPECT_NE(noted("time_s,pulse\n0,1\n0.2,2\n0.4,3\n").find("'pulse' comes at 5 Hz"), std::string::npos);
  EXPECT_NE(noted("time_s,heart_rate_bpm\n0,71\n1,72\n2,73\n").find("'heart_rate_bpm' is a rate"), std::string::npos);
  EXPECT_EQ(noted("time_s,heart_rate_bpm,clip\n0,71,1\n1,72,2\n2,73,1\n"), "");  // the clip may be one
  EXPECT_EQ(noted("time_s,acc_x\n0,1\n1,2\n2,3\n"), "");                         // nobody promised a heart
}

TEST(Text, TakesEmptyCellsAndNanAsNotRecorded) {
  const Recording r = read_text("time_s,a,b\n0,1,\n0.1,nan,2\n0.2,NaN,3\n0.3,,4\n0.4,5,\n");
  ASSERT_EQ(r.channels.size(), 2u);
  EXPECT_TRUE(std::isnan(r.channels[1].samples[0]));
  for (const std::size_t i : {1u, 2u, 3u}) EXPECT_TRUE(std::isnan(r.channels[0].samples[i])) << i;
  EXPECT_EQ(r.channels[0].samples[4], 5.0F);
  const Recording words = read_text("time_s,a,b\n0,1,NA\n0.1,null,2\n0.2,N/A,3\n0.3,None,4\n0.4,5,\n");
  for (const std::size_t i : {1u, 2u, 3u}) EXPECT_TRUE(std::isnan(words.channels[0].samples[i])) << i;
  EXPECT_EQ(words.channels[0].samples[4], 5.0F);
}

TEST(Text, AllowsADelimiterAtTheEndOfLines) {
  for (const char* text :
       {"time_s,a,\n0,1,\n0.1,2,\n0.2,3,\n", "time_s,a\n0,1,\n0.1,2,\n0.2,3,\n", "time_s,a,\n0,1\n0.1,2\n0.2,3\n"}) {
    const Recording r = read_text(text);
    EXPECT_EQ(summary(r), "a [] other") << text;
    EXPECT_EQ(r.channels[0].samples, (std::vector<float>{1, 2, 3})) << text;
  }
}

TEST(Text, LeavesOutAColumnOfWordsAndSaysSo) {
  const Recording r = read_text("time_s,ecg,activity\n0,1,rest\n0.1,2,rest\n0.2,3,stairs\n");
  EXPECT_EQ(summary(r), "ecg [] ecg");
  EXPECT_EQ(codes_of(r.warnings), "text_column_left_out");
}

TEST(Text, LeavesOutAnIncompleteLastLineAndSaysSo) {
  for (const char* last : {"0.3", "0.3,", "0.3,4,", "0.3,4,-", "0.3,4,5e"}) {
    const Recording r = read_text(std::string("time_s,a,b\n0,1,1\n0.1,2,1\n0.2,3,1\n") + last);
    EXPECT_EQ(r.channels[0].samples.size(), std::string(last) == "0.3,4," ? 4u : 3u) << last;
    EXPECT_EQ(codes_of(r.warnings), std::string(last) == "0.3,4," ? "" : "incomplete_last_line") << last;
  }
  EXPECT_EQ(codes_of(read_text("time_s,a\n0,1\n0.1,2\n0.2,3").warnings), "");
}

TEST(Text, EndsAtZeroBytesAsAfterAPowerCut) {
  const Recording r = read_text("time_s,a\n0,1\n0.1,2\n0.2,3\n" + std::string(1000, '\0'));
  EXPECT_EQ(r.channels[0].samples.size(), 3u);
  EXPECT_EQ(codes_of(r.warnings), "zero_bytes_at_end");
}

TEST(Text, ReadsTheSameUnderALocaleWithDecimalCommas) {
  const char* locale = std::setlocale(LC_ALL, "de_DE.UTF-8");
  if (locale == nullptr) locale = std::setlocale(LC_ALL, "de_DE.utf8");
  const Recording r = read_text("time_s,ecg\n0,1.5\n0.01,2.5\n0.02,3.5\n");
  std::setlocale(LC_ALL, "C");
  EXPECT_EQ(r.channels[0].samples[0], 1.5F);
  EXPECT_EQ(r.channels[0].rate, Hertz{100});
  if (locale == nullptr) GTEST_SKIP() << "skipped: the locale de_DE.UTF-8 is not installed, so this ran under C";
}

TEST(Text, ReadsTheOpenRecordings) {
  const auto bedside = open_data("bedside");
  const auto treadmill = open_data("treadmill_pulse");
  const auto anaesthesia = open_data("anaesthesia_pulse");
  if (!bedside || !treadmill || !anaesthesia) GTEST_SKIP() << "skipped: the open recordings are not here";
  // Source: lines of the files, and rates in the publishers' descriptions (125, 125 and 300 Hz).
  for (const char* name : {"bidmc_01_Signals.csv", "bidmc_20_Signals.csv"}) {
    const Recording r = read_recording(*bedside / name);
    ASSERT_FALSE(r.channels.empty());
    for (const Channel& c : r.channels) {
      EXPECT_EQ(c.rate, Hertz{125}) << name;
      EXPECT_TRUE(c.times.empty()) << name;  // although times beyond 100 s are written to 0.01 s only
      EXPECT_EQ(c.samples.size(), 60001u);
    }
    EXPECT_EQ(codes_of(r.warnings), "times_coarse");
  }
  const Recording t = read_recording(*treadmill / "data_01_type01.csv");
  EXPECT_EQ(summary(t),
            "ecg [] ecg; pulse_1 [] pulse; pulse_2 [] pulse; acc_x [] acceleration; acc_y [] acceleration; acc_z [] "
            "acceleration");
  EXPECT_EQ(t.channels[0].rate, Hertz{125});
  EXPECT_EQ(t.channels[0].samples.size(), 37937u);
  EXPECT_EQ(codes_of(t.warnings), "");
  ReadOptions at300;
  at300.rate = Hertz{300};
  const Recording a = read_recording(*anaesthesia / "0016.csv", at300);
  EXPECT_EQ(a.channels[0].samples.size(), 144001u);
  EXPECT_EQ(a.channels[1].samples[0], 1.2F);
}

}  // namespace
