#include "8_report/text/csv_table.hpp"

#include <gtest/gtest.h>

namespace pulsewright {
namespace {

std::string cell(std::string_view text, const NumberStyle& style = {}) {
  CsvTable table{{}, style};
  table.text(text);
  return table.take();
}

TEST(CsvTable, IsAHeaderAndRowsOfCellsEachLineEnded) {
  CsvTable table{{"name", "ms", "count"}, {}};
  table.text("wren").number(812.27, 1).count(7).end_row();
  table.text("").number({}, 1).count({}).end_row();
  EXPECT_EQ(table.take(), "name,ms,count\nwren,812.3,7\n,,\n");
}

TEST(CsvTable, OfNoColumnsBeginsWithItsFirstRow) {
  CsvTable table{{}, {}};
  table.count(1).count(-2).end_row();
  EXPECT_EQ(table.take(), "1,-2\n");
}

TEST(CsvTable, QuotesWhatRfc4180Demands) {
  EXPECT_EQ(cell("plain text"), "plain text");
  EXPECT_EQ(cell("a,b"), "\"a,b\"");
  EXPECT_EQ(cell("say \"hush\""), "\"say \"\"hush\"\"\"");
  EXPECT_EQ(cell("two\nlines"), "\"two\nlines\"");
  EXPECT_EQ(cell("a;b"), "a;b");
}

TEST(CsvTable, FollowsTheStyleOfASpreadsheetWithDecimalCommas) {
  const NumberStyle style{',', ';'};
  EXPECT_EQ(cell("a;b", style), "\"a;b\"");
  EXPECT_EQ(cell("a,b", style), "a,b");
  CsvTable table{{"s", "ms"}, style};
  table.number(0.5, 2).number(-1.25, 3).end_row();
  EXPECT_EQ(table.take(), "s;ms\n0,50;-1,250\n");
}

TEST(CsvTable, NoTextIsAFormula) {
  EXPECT_EQ(cell("=1+1"), "'=1+1");
  EXPECT_EQ(cell("+41"), "'+41");
  EXPECT_EQ(cell("@sum"), "'@sum");
  EXPECT_EQ(cell("-2+3"), "'-2+3");
  EXPECT_EQ(cell("\tx"), "'\tx");
  EXPECT_EQ(cell("-wren_2"), "-wren_2");  // a code
  EXPECT_EQ(cell("=a,b"), "\"'=a,b\"");
  EXPECT_EQ(cell("a=b"), "a=b");
}

TEST(CsvTable, BytesThatAreNoUtf8AreReplaced) {
  EXPECT_EQ(cell("Zaunk\xC3\xB6nig"), "Zaunk\xC3\xB6nig");
  EXPECT_EQ(cell("Zaunk\xF6nig"), "Zaunk\xEF\xBF\xBDnig");
}

}  // namespace
}  // namespace pulsewright
