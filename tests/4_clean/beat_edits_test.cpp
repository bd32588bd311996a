#include "pulsewright/beat_edits.hpp"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "pulsewright/error.hpp"

namespace pulsewright {
namespace {

BeatTrain train() {
  BeatTrain beats;
  for (int i = 0; i < 10; ++i) {
    Beat beat;
    beat.time = Seconds{0.8 * i};
    beat.sample = SampleIndex{200 * i};
    beat.confidence = 0.9;
    beats.candidates.push_back(beat);
  }
  beats.duration = Seconds{8.0};
  return beats;
}

BeatEdit edit(EditAction action, double time, const char* author = "wren") {
  BeatEdit e;
  e.action = action;
  e.time = Seconds{time};
  e.author = author;
  e.made_at = "2026-03-02T10:15:00";
  e.reason = "seen by eye";
  return e;
}

BeatEdit moved(double time, double to, const char* author = "wren") {
  BeatEdit e = edit(EditAction::move, time, author);
  e.to = Seconds{to};
  return e;
}

struct EditFile {
  explicit EditFile(const std::string& bytes)
      : path(std::filesystem::temp_directory_path() / "pulsewright_edits_test.csv") {
    std::ofstream(path, std::ios::binary) << bytes;
  }
  ~EditFile() { std::filesystem::remove(path); }
  std::filesystem::path path;
};

std::string refusal(const std::string& bytes) {
  const EditFile file(bytes);
  try {
    (void)read_beat_edits(file.path);
  } catch (const Error& error) {
    EXPECT_EQ(error.code(), ErrorCode::unreadable);
    return error.what();
  }
  return "";
}

TEST(BeatEdits, EachActionDoesWhatItSays) {
  BeatEdit added = edit(EditAction::add, 2.0);
  added.label = BeatLabel::ventricular;
  BeatEdit relabelled = edit(EditAction::relabel, 4.02);
  relabelled.label = BeatLabel::supraventricular;
  const std::vector<BeatEdit> edits{added, edit(EditAction::remove, 0.79), moved(3.2, 3.4), relabelled,
                                    edit(EditAction::keep, 5.6)};
  const BeatTrain beats = apply_beat_edits(train(), edits);
  std::vector<double> times;
  for (const Seconds t : beats.times()) times.push_back(t.value());
  ASSERT_EQ(times.size(), 10u);
  EXPECT_DOUBLE_EQ(times[1], 1.6);  // 0.8 is gone
  EXPECT_DOUBLE_EQ(times[2], 2.0);
  EXPECT_DOUBLE_EQ(times[4], 3.4);
  EXPECT_EQ(beats.candidates[2].label, BeatLabel::ventricular);
  EXPECT_EQ(beats.candidates[2].sample.value(), 500);  // 250 samples a second
  EXPECT_EQ(beats.candidates[2].confidence, 1.0);
  EXPECT_EQ(beats.candidates[5].label, BeatLabel::supraventricular);
}

TEST(BeatEdits, AnEditOfNoBeatAndAnAdditionOnTopOfOneAreRefused) {
  const auto refused = [](const BeatEdit& e) {
    try {
      (void)apply_beat_edits(train(), std::vector<BeatEdit>{e});
    } catch (const Error& error) {
      return error.code() == ErrorCode::usage && std::string(error.what()).find("wren") != std::string::npos;
    }
    return false;
  };
  EXPECT_TRUE(refused(edit(EditAction::remove, 1.2)));
  EXPECT_TRUE(refused(edit(EditAction::add, 1.65)));
  EXPECT_TRUE(refused(moved(0.8, 1.63)));
  EXPECT_FALSE(refused(edit(EditAction::add, 1.2)));
}

TEST(BeatEdits, WhatIsWrittenIsRead) {
  std::vector<BeatEdit> edits{edit(EditAction::add, 1.2), moved(0.8, 0.9)};
  edits[0].reason = "a \"small\" beat, hidden";
  edits[0].label = BeatLabel::normal;
  const EditFile file("# a comment\r\n" + beat_edits_csv(edits));
  const std::vector<BeatEdit> back = read_beat_edits(file.path);
  ASSERT_EQ(back.size(), 2u);
  EXPECT_EQ(back[0].reason, edits[0].reason);
  EXPECT_EQ(back[0].label, BeatLabel::normal);
  EXPECT_EQ(back[1].to, Seconds{0.9});
  EXPECT_EQ(back[1].made_at, "2026-03-02T10:15:00");
  EXPECT_EQ(beat_edits_csv(back), beat_edits_csv(edits));
}

TEST(BeatEdits, AFileThatCannotBeTakenAtItsWordIsRefusedWithItsLine) {
  const std::string head = "action,time_s,to_s,label,author,made_at,reason\n";
  EXPECT_NE(refusal("").find("empty"), std::string::npos);
  EXPECT_NE(refusal("action,time_s\n").find("to_s"), std::string::npos);
  EXPECT_NE(refusal(head + "# x\nzap,1,,,w,,r\n").find("line 3"), std::string::npos);
  EXPECT_NE(refusal(head + "add,-1,,,w,,r\n").find("'-1'"), std::string::npos);
  EXPECT_NE(refusal(head + "add,abc,,,w,,r\n").find("'abc'"), std::string::npos);
  EXPECT_NE(refusal(head + "move,1,,,w,,r\n").find("to_s"), std::string::npos);
  EXPECT_NE(refusal(head + "relabel,1,,,w,,r\n").find("label"), std::string::npos);
  EXPECT_NE(refusal(head + "relabel,1,,odd,w,,r\n").find("odd"), std::string::npos);
  EXPECT_NE(refusal(head + "add,1,,,,,r\n").find("author"), std::string::npos);
  EXPECT_NE(refusal(head + "add,1,,,w,,\n").find("reason"), std::string::npos);
  EXPECT_EQ(refusal(head + "add,1,,,w,,r\n"), "");
  EXPECT_THROW((void)read_beat_edits("no such file"), Error);
}

TEST(BeatEdits, TwoReviewersAgreeOrAreDecidedOrStayOpen) {
  const std::vector<BeatEdit> first{edit(EditAction::remove, 0.8), moved(1.6, 1.7), edit(EditAction::add, 2.0),
                                    edit(EditAction::remove, 4.0)};
  const std::vector<BeatEdit> second{edit(EditAction::remove, 0.81, "plover"), moved(1.6, 1.72, "plover"),
                                     edit(EditAction::remove, 3.2, "plover"), moved(4.0, 4.2, "plover")};
  const EditComparison open = compare_edits(first, second);
  EXPECT_EQ(open.agreed.size(), 2u);
  ASSERT_EQ(open.disputes.size(), 3u);
  EXPECT_EQ(open.open(), 3u);
  EXPECT_EQ(adjudicated(open).size(), 2u);
  EXPECT_FALSE(open.disputes[0].second);  // only the first adds one at 2.0 s
  EXPECT_FALSE(open.disputes[1].first);
  EXPECT_TRUE(open.disputes[2].first && open.disputes[2].second);

  const std::vector<BeatEdit> decisions{edit(EditAction::add, 2.01, "heron"), edit(EditAction::keep, 3.2, "heron")};
  const EditComparison decided = compare_edits(first, second, decisions);
  EXPECT_EQ(decided.open(), 1u);
  const std::vector<BeatEdit> result = adjudicated(decided);
  ASSERT_EQ(result.size(), 3u);
  EXPECT_EQ(result[2].author, "heron");
  EXPECT_THROW((void)compare_edits(first, second, std::vector<BeatEdit>{edit(EditAction::keep, 0.8)}), Error);
}

}  // namespace
}  // namespace pulsewright
