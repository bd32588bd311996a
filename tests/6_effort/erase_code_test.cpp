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
  for (const char* code : {"", "..", "a/b", "two words", "*"})
    EXPECT_THROW((void)plan_erasure(code, {folder_}), Error) << code;
  EXPECT_THROW((void)plan_erasure("wren", {folder_ / "absent"}), Error);
  EXPECT_TRUE(plan_erasure("nobody", {folder_}).empty());
}

}  // namespace
}  // namespace pulsewright
