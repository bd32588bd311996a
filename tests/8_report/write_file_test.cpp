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

}  // namespace
}  // namespace pulsewright
