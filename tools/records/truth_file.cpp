#include "truth_file.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <string_view>

namespace pulsewright::program {
namespace fs = std::filesystem;
namespace {

constexpr std::array<std::string_view, 3> recording_suffixes{".csv", ".hea", ".edf"};

}  // namespace

bool is_truth_file(const fs::path& file) {
  const std::string stem = file.stem().string();
  const std::size_t mark = stem.rfind("_truth");
  if (mark == std::string::npos) return false;
  const fs::path recording = file.parent_path() / stem.substr(0, mark);
  std::error_code ignored;
  return std::any_of(recording_suffixes.begin(), recording_suffixes.end(),
                     [&](std::string_view suffix) { return fs::exists(fs::path(recording).concat(suffix), ignored); });
}

}  // namespace pulsewright::program
