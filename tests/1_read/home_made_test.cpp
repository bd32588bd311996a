// Files as people make them: devices that restart, recordings put into one file, two sensors in turn.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "1_read/open_data.hpp"
#include "1_read/refusal.hpp"
#include "pulsewright/read.hpp"

namespace {

using namespace pulsewright;
using namespace read_tests;

std::string rows(int count, int from_ms = 0) {
  std::string text;
  for (int i = 0; i < count; ++i) text += std::to_string(from_ms + 8 * i) + "," + std::to_string(i % 90) + "\n";
  return text;
}

TEST(HomeMade, ADeviceThatRestartsLeavesAGapAndIsTold) {
  const ScratchFolder folder;
  const std::string header = "time_ms,pulse\n";
  for (const bool with_header : {false, true}) {
    const auto path = folder.write("a.csv", header + rows(2000, 40) + (with_header ? header : "") + rows(1500, 40));
    const Recording r = read_recording(path);
    ASSERT_TRUE(warns(r.warnings, "clock_restarted")) << codes_of(r.warnings);
    EXPECT_TRUE(warns(r.warnings, "clock_gaps"));
    EXPECT_NEAR(r.duration.value(), 3500 * 0.008 + 5, 0.01);
    const Channel& channel = r.channels[0];
    EXPECT_EQ(channel.samples.size(), 3500u);
    EXPECT_NEAR(channel.time_of_sample(SampleIndex{2000}).value(), 1999 * 0.008 + 5, 1e-6);
    const auto told = std::find_if(r.warnings.begin(), r.warnings.end(),
                                   [](const Warning& warning) { return warning.code == "clock_restarted"; });
    ASSERT_NE(told, r.warnings.end());
    EXPECT_NE(told->message.find(with_header ? "a.csv:2003" : "a.csv:2002"), std::string::npos) << told->message;
  }
}

TEST(HomeMade, ATimeThatFallsElsewhereIsRefusedAsBefore) {
  const ScratchFolder folder;
  const auto path = folder.write("a.csv", "time_ms,pulse\n" + rows(2000) + rows(100, 9000));
  expect_refusal([&] { return read_recording(path); }, ErrorCode::unreadable, "a.csv:2002", "time runs backwards");
}

TEST(HomeMade, AnObjectALineIsATable) {
  const ScratchFolder folder;
  std::string text = "{\"t_ms\": 0, \"ir\": 10.5, \"note\": \"on, \\\"skin\\\"\"}\n";
  for (int i = 1; i < 300; ++i)
    text += "{\"ir\": " + (i == 7 ? "null" : std::to_string(i % 50)) + ", \"t_ms\":" + std::to_string(8 * i) +
            (i % 3 == 0 ? ",\"note\":\"ok\"" : "") + "}\r\n";
  const Recording r = read_recording(folder.write("a.jsonl", text));
  ASSERT_EQ(r.channels.size(), 1u);
  EXPECT_EQ(r.channels[0].name, "ir");
  EXPECT_DOUBLE_EQ(r.channels[0].rate.value(), 125);
  EXPECT_FLOAT_EQ(r.channels[0].samples[0], 10.5F);
  EXPECT_FLOAT_EQ(r.channels[0].samples[299], 49);
  EXPECT_TRUE(std::isnan(r.channels[0].samples[7]));
  EXPECT_TRUE(warns(r.warnings, "text_column_left_out"));
  text.insert(text.find("\r\n") + 2, "{\"ir\": [1, 2]}\r\n");
  EXPECT_TRUE(warns(read_recording(folder.write("b.jsonl", text)).warnings, "unreadable_lines"));
}

TEST(HomeMade, TwoSensorsInTurnAreRefusedByName) {
  const ScratchFolder folder;
  std::string text = "time_ms,sensor,value\n";
  for (int i = 0; i < 100; ++i)
    text += std::to_string(4 * i) + (i % 2 == 0 ? ",finger," : ",ear,") + std::to_string(i % 7) + "\n";
  const auto path = folder.write("a.csv", text);
  expect_refusal([&] { return read_recording(path); }, ErrorCode::unreadable, "column 'sensor'", "finger, ear",
                 "2 sensors stand in turn");
}

}  // namespace
