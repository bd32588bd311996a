#include "beat_list.hpp"

#include <algorithm>
#include <array>
#include <fstream>
#include <string>
#include <string_view>

namespace pulsewright::program {
namespace fs = std::filesystem;
namespace {

constexpr std::array<std::string_view, 3> recording_suffixes{".csv", ".hea", ".edf"};
constexpr std::array<std::string_view, 6> beat_columns{"time_s", "sample", "confidence", "verdict", "label", "delay_s"};
/// No header line of a beat table is longer.
constexpr std::size_t longest_header = 512;

std::string_view trimmed(std::string_view cell) {
  constexpr std::string_view blank = " \t\r\"";
  const std::size_t begin = cell.find_first_not_of(blank);
  if (begin == std::string_view::npos) return {};
  return cell.substr(begin, cell.find_last_not_of(blank) - begin + 1);
}

bool names_only_beats(std::string_view header) {
  bool has_time = false;
  while (true) {
    const std::size_t end = header.find_first_of(",;\t");
    const std::string_view cell = trimmed(header.substr(0, end));
    if (std::find(beat_columns.begin(), beat_columns.end(), cell) == beat_columns.end()) return false;
    has_time = has_time || cell == "time_s";
    if (end == std::string_view::npos) return has_time;
    header.remove_prefix(end + 1);
  }
}

bool stands_beside_header(const fs::path& file) {
  std::error_code ignored;
  return file.extension() != ".hea" && file.extension() != ".dat" && file.has_extension() &&
         fs::exists(fs::path(file).replace_extension(".hea"), ignored);
}

}  // namespace

bool is_beat_list(const fs::path& file) {
  std::error_code ignored;
  if (!fs::is_regular_file(file, ignored)) return false;
  if (stands_beside_header(file)) return true;
  std::ifstream lines(file, std::ios::binary);
  std::string line(longest_header, '\0');
  while (lines.getline(line.data(), longest_header)) {
    const std::string_view header(line.data());
    if (trimmed(header).empty() || header.front() == '#') continue;
    return names_only_beats(header);
  }
  return false;
}

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
