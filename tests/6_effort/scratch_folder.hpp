/// A folder of a test's own, gone afterwards.
#pragma once

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "pulsewright/error.hpp"

namespace pulsewright {

class ScratchFolder : public testing::Test {
 protected:
  void SetUp() override {
    const auto* test = testing::UnitTest::GetInstance()->current_test_info();
    folder_ = std::filesystem::path{testing::TempDir()} /
              (std::string{"pulsewright_"} + test->test_suite_name() + "_" + test->name());
    std::filesystem::remove_all(folder_);
    std::filesystem::create_directories(folder_);
  }
  void TearDown() override { std::filesystem::remove_all(folder_); }

  std::filesystem::path write(const std::string& name, const std::string& bytes) {
    const std::filesystem::path path = folder_ / name;
    std::filesystem::create_directories(path.parent_path());
    std::ofstream(path, std::ios::binary) << bytes;
    return path;
  }
  static std::string read(const std::filesystem::path& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
  }
  /// What is said when `work` refuses; empty when it does not.
  template <class Work>
  static std::string refusal(Work work) {
    try {
      work();
    } catch (const Error& error) {
      return error.what();
    }
    return {};
  }

  std::filesystem::path folder_;
};

}  // namespace pulsewright
