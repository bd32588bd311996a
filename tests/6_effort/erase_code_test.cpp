/// Deleting what is kept of a person: all of it, nothing else, and nothing before it is asked for.
#include "pulsewright/erase_code.hpp"

#include <algorithm>

#include "scratch_folder.hpp"

namespace pulsewright {
namespace {

namespace fs = std::filesystem;

class EraseCode : public ScratchFolder {
 protected:
  void SetUp() override {
    ScratchFolder::SetUp();
    roster_ = write("roster.csv", "# club\ncode,age_years\nwren,15\nwren_b,15\nheron,15\n");
    sheet_ = write("sheet.csv", "code,file\nwren,clip7.csv\nheron,shared.csv\nwren,shared.csv\nheron,heron.csv\n");
    for (const char* name :
         {"wren.csv", "wren_climb.csv", "wren_b.csv", "wrenish.csv", "heron.csv", "clip7.csv", "shared.csv"})
      write(name, "time_s\n1\n");
    write("wren/report.html", "<p>anything</p>");
    write("effort.json", "{\"document\": \"effort\", \"person\": {\"code\": \"wren\"}}");
    write("people.json", "{\"people\": [{\"code\": \"wren\"}, {\"code\": \"heron\"}]}");
    write("notes.txt", "Talk to wren about the clip.\n");
    write("other.txt", "wrench and wren_b\n");
  }
  bool goes(const ErasePlan& plan, const char* name) const {
    return std::find(plan.files.begin(), plan.files.end(), folder_ / name) != plan.files.end();
  }
  fs::path roster_, sheet_;
};

TEST_F(EraseCode, FindsFilesRowsEntriesAndOwnRecordingsOfThatCodeOnly) {
  const ErasePlan plan = plan_erasure("wren", {folder_});
  for (const char* name : {"wren.csv", "wren_climb.csv", "wren/report.html", "effort.json", "clip7.csv"})
    EXPECT_TRUE(goes(plan, name)) << name;
  for (const char* name : {"wren_b.csv", "wrenish.csv", "heron.csv", "shared.csv", "notes.txt", "other.txt"})
    EXPECT_FALSE(goes(plan, name)) << name;
  EXPECT_EQ(plan.rewritten.size(), 3u);  // roster, sheet, people
  const auto says = [&](const std::string& part) {
    return std::any_of(plan.left.begin(), plan.left.end(),
                       [&](const std::string& l) { return l.find(part) != std::string::npos; });
  };
  EXPECT_TRUE(says("notes.txt"));
  EXPECT_TRUE(says("shared.csv"));
  EXPECT_FALSE(says("other.txt"));
}

TEST_F(EraseCode, TouchesNothingBeforeItIsCarriedOutAndThenLeavesNoTrace) {
  const ErasePlan plan = plan_erasure("wren", {folder_});
  EXPECT_TRUE(fs::exists(folder_ / "wren.csv"));
  EXPECT_NE(read(roster_).find("wren,15"), std::string::npos);
  erase(plan);
  EXPECT_EQ(read(roster_), "# club\ncode,age_years\nwren_b,15\nheron,15\n");
  EXPECT_EQ(read(sheet_), "code,file\nheron,shared.csv\nheron,heron.csv\n");
  EXPECT_FALSE(fs::exists(folder_ / "clip7.csv"));
  EXPECT_TRUE(fs::exists(folder_ / "heron.csv"));
  EXPECT_EQ(read(folder_ / "people.json").find("wren"), std::string::npos);
  EXPECT_TRUE(plan_erasure("wren", {folder_}).empty());
}

TEST_F(EraseCode, RefusesWhatIsNoCodeAndWhatIsNotThere) {
  for (const char* code : {"", " "}) EXPECT_THROW((void)plan_erasure(code, {folder_}), Error) << code;
  for (const char* code : {"..", "a/b", "*", "."}) EXPECT_TRUE(plan_erasure(code, {folder_}).empty()) << code;
  EXPECT_THROW((void)plan_erasure("wren", {folder_ / "absent"}), Error);
  EXPECT_TRUE(plan_erasure("nobody", {folder_}).empty());
}

TEST_F(EraseCode, ForgetsEveryCodeThatALogMayHold) {
  const fs::path log =
      write("log.csv", "date,code\n2026-03-02,two words\n2026-03-02,\"a, \"\"b\"\"\nc\"\n2026-03-02,heron\n");
  erase(plan_erasure("two words", {folder_}));
  erase(plan_erasure("a, \"b\"\nc", {folder_}));
  EXPECT_EQ(read(log), "date,code\n2026-03-02,heron\n");
}

TEST_F(EraseCode, KnowsTheSameFileHoweverItsPathIsWritten) {
  write("club/sheet.csv", "code,file\np07,../club/x.csv\n");
  write("club/x.csv", "time_s\n1\n");
  const fs::path before = fs::current_path();
  fs::current_path(folder_);
  const ErasePlan plan = plan_erasure("p07", {"."});
  fs::current_path(before);
  EXPECT_EQ(plan.files, std::vector<fs::path>{"club/x.csv"});
  EXPECT_EQ(plan.rewritten.size(), 1u);
  EXPECT_TRUE(plan.left.empty());
}

TEST_F(EraseCode, LeavesARecordingThatASheetGivesToSomebodyElse) {
  write("later.csv", "code,file\nheron,wren.csv\n");
  const ErasePlan plan = plan_erasure("wren", {folder_});
  EXPECT_FALSE(goes(plan, "wren.csv"));
  EXPECT_TRUE(std::any_of(plan.left.begin(), plan.left.end(), [](const std::string& left) {
    return left.find("wren.csv") != std::string::npos && left.find("gives it to heron") != std::string::npos;
  }));
}

TEST_F(EraseCode, TakesAllThatAnalyzeWroteOfThePersonAndNothingBeside) {
  write("lesson/analysis.json", R"({"document": "analysis", "effort": {"person": {"code": "p07"}}})");
  for (const char* name : {"lesson/beats.csv", "lesson/summary.txt", "lesson/own_notes.txt"}) write(name, "0.5\n");
  const ErasePlan plan = plan_erasure("p07", {folder_});
  for (const char* name : {"lesson/analysis.json", "lesson/beats.csv", "lesson/summary.txt"})
    EXPECT_TRUE(goes(plan, name)) << name;
  EXPECT_EQ(plan.files.size(), 3u);
}

TEST_F(EraseCode, NamesEveryOtherKindOfFileThatHoldsTheCode) {
  std::string wide = "\xff\xfe";
  for (const char c : std::string{"code;age\r\np07;15\r\n"}) wide += {c, '\0'};
  write("wide.csv", wide);
  write("rows.sqlite", std::string{"SQLite format 3\0", 16} + std::string(70000, '\1') + "\n\x0bp07\x0c");
  std::string header = "0       p07 X 02-MAR-2026";
  header.resize(256, ' ');
  write("a.edf", header + std::string(1000, '\0'));
  write("b.zip", "PK\x03\x04....");
  write("long.txt", std::string(std::size_t{65} << 20, '.') + "\np07\n");
  // printf 'of p07\n' | gzip -n
  write("note.txt.gz",
        std::string{"\x1f\x8b\x08\0\0\0\0\0\0\x03\xcb\x4f\x53\x28\x30\x30\xe7\x02\0\x17\x2c\x78\xc0\x07\0\0\0", 27});
  const ErasePlan plan = plan_erasure("p07", {folder_});
  EXPECT_TRUE(plan.empty());
  std::string left;
  for (const std::string& line : plan.left) left += line + "\n";
  for (const char* name : {"wide.csv (a text in UTF-16)", "rows.sqlite (a database)", "a.edf (no text)",
                           "b.zip is an archive", "long.txt (a long text)", "note.txt.gz (a packed text)"})
    EXPECT_NE(left.find(name), std::string::npos) << name << " in:\n" << left;
}

TEST_F(EraseCode, DocumentsOfAnyDepthAreNamed) {
  write("deep.json",
        R"({"people": [{"code": "p07", "more": )" + std::string(100'000, '[') + std::string(100'000, ']') + "}]}");
  const ErasePlan plan = plan_erasure("p07", {folder_});
  EXPECT_TRUE(plan.empty());
  ASSERT_EQ(plan.left.size(), 1u);
  EXPECT_NE(plan.left[0].find("deep.json names the code"), std::string::npos);
}

}  // namespace
}  // namespace pulsewright
