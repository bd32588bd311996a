#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "pulsewright/report.hpp"

namespace pulsewright {
namespace {

TEST(FormatNumber, RoundsHalvesAwayFromZeroOnTheDecimalValue) {
  // 0.285, 1.005 and 2.675 lie just below these decimals in binary; people see the decimal.
  EXPECT_EQ(format_number(0.285, 2), "0.29");
  EXPECT_EQ(format_number(1.005, 2), "1.01");
  EXPECT_EQ(format_number(2.675, 2), "2.68");
  EXPECT_EQ(format_number(-2.675, 2), "-2.68");
  EXPECT_EQ(format_number(0.5, 0), "1");
  EXPECT_EQ(format_number(2.5, 0), "3");
  EXPECT_EQ(format_number(2.4999, 0), "2");
}

TEST(FormatNumber, CarriesOverNines) {
  EXPECT_EQ(format_number(9.9996, 3), "10.000");
  EXPECT_EQ(format_number(0.99999949, 6), "0.999999");
  EXPECT_EQ(format_number(0.9999995, 6), "1.000000");
}

TEST(FormatNumber, PadsWithZerosAndNeverUsesExponents) {
  EXPECT_EQ(format_number(3.0, 3), "3.000");
  EXPECT_EQ(format_number(1e-9, 6), "0.000000");
  EXPECT_EQ(format_number(1e21, 1), "1000000000000000000000.0");
  EXPECT_EQ(format_number(123456789.125, 2), "123456789.13");
}

TEST(FormatNumber, NeverWritesANegativeZero) {
  EXPECT_EQ(format_number(-0.0, 2), "0.00");
  EXPECT_EQ(format_number(-0.004, 2), "0.00");
  EXPECT_EQ(format_number(-0.005, 2), "-0.01");
}

TEST(FormatNumber, LeavesEmptyWhatIsAbsentOrNotFinite) {
  EXPECT_EQ(format_number(std::nullopt, 2), "");
  EXPECT_EQ(format_number(std::nan(""), 2), "");
  EXPECT_EQ(format_number(std::numeric_limits<double>::infinity(), 2), "");
}

TEST(FormatNumber, WritesTheDecimalSignOfTheStyle) { EXPECT_EQ(format_number(-1.25, 1, {',', ';'}), "-1,3"); }

TEST(WholeBeats, CountsAHalfUpEvenWhenTheSumFellShortOfIt) {
  EXPECT_EQ(whole_beats(BeatsPerMinute{149.4}), 149);
  EXPECT_EQ(whole_beats(BeatsPerMinute{185.5}), 186);                         // check-values: rest 75, age 15
  EXPECT_EQ(whole_beats(BeatsPerMinute{75.0 + 0.85 * (205.0 - 75.0)}), 186);  // the same, as it is computed
  EXPECT_EQ(whole_beats(BeatsPerMinute{185.49}), 185);
}

TEST(FormatClock, ReadsLikeAStopWatch) {
  EXPECT_EQ(format_clock(Seconds{0}), "0:00");
  EXPECT_EQ(format_clock(Seconds{272.4}), "4:32");
  EXPECT_EQ(format_clock(Seconds{3599.5}), "1:00:00");
}

TEST(SpreadsheetStyle, FollowsTheLanguageAndItsExceptions) {
  EXPECT_EQ(spreadsheet_style("de")->decimal, ',');
  EXPECT_EQ(spreadsheet_style("de_DE.UTF-8")->separator, ';');
  EXPECT_EQ(spreadsheet_style("pt-BR")->decimal, ',');
  EXPECT_EQ(spreadsheet_style("de_CH")->decimal, '.');
  EXPECT_EQ(spreadsheet_style("en_GB")->separator, ',');
  EXPECT_FALSE(spreadsheet_style("klingon").has_value());
}

}  // namespace
}  // namespace pulsewright
