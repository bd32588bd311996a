#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <iterator>

#include "pulsewright/error.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright {
namespace {

namespace fs = std::filesystem;

class WriteFile : public testing::Test {
 protected:
  void SetUp() override {
    folder_ = fs::temp_directory_path() / ("pulsewright_write_file_" + std::to_string(::getpid()));
    fs::create_directories(folder_);
  }
  void TearDown() override { fs::remove_all(folder_); }

  std::string content(const fs::path& file) {
    std::ifstream stream(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), {}};
  }

  fs::path folder_;
};

TEST_F(WriteFile, ReplacesAFileInOneStepAndLeavesNothingElse) {
  write_file(folder_ / "beats.csv", "old, and longer");
  write_file(folder_ / "beats.csv", "new");
  EXPECT_EQ(content(folder_ / "beats.csv"), "new");
  EXPECT_EQ(std::distance(fs::directory_iterator(folder_), fs::directory_iterator{}), 1);
}

TEST_F(WriteFile, NamesTheFileThatCannotBeCreated) {
  try {
    write_file(folder_ / "missing" / "beats.csv", "x");
    FAIL() << "wrote into a folder that is not there";
  } catch (const Error& error) {
    EXPECT_EQ(error.code(), ErrorCode::unwritable);
    EXPECT_NE(std::string(error.what()).find("beats.csv"), std::string::npos) << error.what();
  }
}

TEST_F(WriteFile, LeavesNoPartBehindWhenItsPlaceIsTaken) {
  fs::create_directory(folder_ / "beats.csv");  // a folder cannot be replaced by a file
  EXPECT_THROW(write_file(folder_ / "beats.csv", "x"), Error);
  EXPECT_EQ(std::distance(fs::directory_iterator(folder_), fs::directory_iterator{}), 1);
}

TEST_F(WriteFile, KeepsTheModeOfTheFileThatItReplaces) {
  write_file(folder_ / "log.csv", "old");
  fs::permissions(folder_ / "log.csv", fs::perms::owner_read | fs::perms::owner_write);
  write_file(folder_ / "log.csv", "new");
  EXPECT_EQ(fs::status(folder_ / "log.csv").permissions(), fs::perms::owner_read | fs::perms::owner_write);
}

TEST_F(WriteFile, FollowsALinkAlsoOneThatLeadsToNothingYet) {
  fs::create_directory(folder_ / "club");
  fs::create_symlink("club/real.csv", folder_ / "link.csv");
  write_file(folder_ / "link.csv", "x");
  EXPECT_TRUE(fs::is_symlink(folder_ / "link.csv"));
  EXPECT_EQ(content(folder_ / "club/real.csv"), "x");
}

TEST_F(WriteFile, OfAFolderOfResultsNeverLeavesTheFolder) {
  fs::create_directories(folder_ / "out/below");
  std::ofstream(folder_ / "diary.txt") << "mine";
  fs::create_symlink("../diary.txt", folder_ / "out/beats.csv");
  fs::create_symlink("below/rate.csv", folder_ / "out/rate.csv");
  try {
    write_in_folder(folder_ / "out", "beats.csv", "x");
    FAIL() << "wrote through a link out of the folder";
  } catch (const Error& error) {
    EXPECT_EQ(error.code(), ErrorCode::unwritable);
    EXPECT_NE(std::string(error.what()).find("leads out of the folder"), std::string::npos) << error.what();
  }
  EXPECT_EQ(content(folder_ / "diary.txt"), "mine");
  write_in_folder(folder_ / "out", "rate.csv", "y");
  EXPECT_EQ(content(folder_ / "out/below/rate.csv"), "y");
}

}  // namespace
}  // namespace pulsewright
