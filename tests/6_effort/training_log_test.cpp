/// A log over many lessons: what is kept in it stays as it was written.
#include "pulsewright/training_log.hpp"

#include <random>

#include "pulsewright/effort_report.hpp"
#include "scratch_folder.hpp"

namespace pulsewright {
namespace {

LogEntry entry(const std::string& date, const std::string& code, const std::string& session, double minutes = 30,
               const std::string& content = "") {
  LogEntry result;
  result.date = date;
  result.code = code;
  result.session = session;
  result.activity = "run";
  result.minutes = result.measured_minutes = minutes;
  result.content = content;
  return result;
}

std::vector<LogEntry> entries_in(const std::string& bytes) { return log_of(table_of(bytes, "log.csv")); }

TEST(TrainingLog, QuotesAreTheSameAfterEighteenSaves) {
  std::string log = log_with("", "log.csv", {entry("2026-03-02", "wren", "the \"big\" climb, first")}).bytes;
  const std::string once = log;
  for (int i = 3; i < 20; ++i)
    log = log_with(log, "log.csv", {entry((i < 10 ? "2026-03-0" : "2026-03-") + std::to_string(i), "wren", "clip.csv")})
              .bytes;
  EXPECT_NE(log.find("\"the \"\"big\"\" climb, first\""), std::string::npos);
  EXPECT_EQ(entries_in(log).front().session, "the \"big\" climb, first");
  EXPECT_LT(log.size(), once.size() + 17 * 80);
}

TEST(TrainingLog, EveryTextComesBackAsItWasWritten) {
  // Pieces that quoting, spreadsheets and readers of tables stumble over.
  const std::string pieces[] = {"\"", "\"\"", ",", ";",  "\t", "\n", "\r\n", "'", "=",    "+1",          "-",
                                "@",  "#",    "%", "//", " ",  "a",  "é",    "1", "🫀", "\xef\xbb\xbf"};
  std::mt19937 random{19};
  for (int round = 0; round < 3000; ++round) {
    std::vector<std::string> texts(3);
    for (std::string& text : texts)
      for (std::size_t n = random() % 6; n-- > 0;) text += pieces[random() % std::size(pieces)];
    SessionEffort session;
    session.effort.person.code = texts[0];
    session.options.activity = texts[1];
    const LogEntry kept = log_entry("2026-03-02", texts[2], "", session);
    const std::string log = log_with("", "log.csv", {kept}).bytes;
    const std::vector<LogEntry> back = entries_in(log);
    ASSERT_EQ(back.size(), 1u) << log;
    EXPECT_EQ(back[0].code, kept.code) << log;
    EXPECT_EQ(back[0].activity, kept.activity) << log;
    EXPECT_EQ(back[0].session, kept.session) << log;
    EXPECT_TRUE(back[0].is_same_session(kept)) << log;
    EXPECT_EQ(log_with(log, "log.csv", {kept}).replaced, 1) << log;
  }
}

TEST(TrainingLog, OtherColumnsCommentsAndRowsStayByteForByte) {
  const std::string before =
      "# spring term\ncode,Date,session,note,activity,duration_min,measured_min\n"
      "# first lesson\nwren, 2026-03-02 ,clip.csv,\"slept \"\"badly\"\"\",run,30.00000,30\n"
      "heron,2026-03-09,clip.csv,,run,25,25\n# end\n";
  const LogUpdate update = log_with(
      before, "log.csv",
      {entry("2026-03-02", "wren", "clip.csv", 31), entry("2026-03-05", "wren", "stairs.csv", 20, "0123456789ab")});
  EXPECT_EQ(update.replaced, 1);
  EXPECT_EQ(update.added, 1);
  EXPECT_EQ(update.bytes,
            "# spring term\ncode,Date,session,note,activity,duration_min,measured_min,content\n"
            "# first lesson\nwren,2026-03-02,clip.csv,\"slept \"\"badly\"\"\",run,31.000,31.000,\n"
            "wren,2026-03-05,stairs.csv,,run,20.000,20.000,0123456789ab\n"
            "heron,2026-03-09,clip.csv,,run,25,25\n# end\n");
  EXPECT_EQ(entries_in(update.bytes).size(), 3u);
}

TEST(TrainingLog, KeepsToTheDelimiterTheDecimalSignAndTheLineEndsOfASpreadsheet) {
  const std::string before =
      "date;code;session;activity;duration_min;measured_min\r\n2026-03-02;wren;a.csv;run;30,5;30\r\n";
  const std::string after = log_with(before, "log.csv", {entry("2026-03-03", "wren", "a;b.csv", 12.25)}).bytes;
  EXPECT_EQ(after,
            "date;code;session;activity;duration_min;measured_min;content\r\n2026-03-02;wren;a.csv;run;30,5;30\r\n"
            "2026-03-03;wren;\"a;b.csv\";run;12,250;12,250;\r\n");
  EXPECT_DOUBLE_EQ(entries_in(after)[1].minutes, 12.25);
}

TEST(TrainingLog, SessionsOfOneNameWithDifferentRecordingsStandSideBySide) {
  const LogEntry morning = entry("2026-03-02", "wren", "clip.csv", 30, "aaaaaaaaaaaa");
  const LogEntry noon = entry("2026-03-02", "wren", "clip.csv", 45, "bbbbbbbbbbbb");
  const LogUpdate both = log_with("", "log.csv", {morning, noon});
  EXPECT_EQ(both.added, 2);
  EXPECT_EQ(both.beside_another, 1);
  EXPECT_EQ(log_with(both.bytes, "log.csv", {noon}).replaced, 1);
  // A log of before contents were noted knows a session by its name.
  EXPECT_TRUE(entry("2026-03-02", "wren", "clip.csv").is_same_session(noon));
}

TEST(TrainingLog, ALastRowWithoutALineEndIsARow) {
  const std::string before =
      "date,code,session,activity,duration_min,measured_min,content\n2026-03-02,wren,a,run,30,30,";
  const std::string after = log_with(before, "log.csv", {entry("2026-03-03", "wren", "b")}).bytes;
  EXPECT_EQ(entries_in(after).size(), 2u) << after;
}

}  // namespace
}  // namespace pulsewright
