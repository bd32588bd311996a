#include "recording_content.hpp"

#include <array>
#include <fstream>
#include <string_view>

namespace pulsewright::program {
namespace {

/// How much of a file is looked at.
constexpr std::size_t looked_at_bytes = 8192;
/// The version field that EDF begins with (edfplus.info, "EDF specification").
constexpr std::string_view edf_version = "0       ";
/// What rows of numbers, dates and clock times are made of.
constexpr std::string_view row_characters = "0123456789+-.,;: \t\r\"/eETZnaN";

/// Numbers alone, or a number in the first of several cells, perhaps behind a label or a clock time.
bool is_row(std::string_view line) {
  std::string_view first = line.substr(0, line.find_first_of(",;\t"));
  if (const std::size_t mark = first.find_last_of(":=>"); mark != std::string_view::npos) first.remove_prefix(mark + 1);
  return first.find_first_of("0123456789") != std::string_view::npos &&
         first.find_first_not_of(row_characters) == std::string_view::npos;
}

}  // namespace

bool holds_a_recording(const std::filesystem::path& file) {
  std::ifstream stream(file, std::ios::binary);
  std::array<char, looked_at_bytes> block{};
  stream.read(block.data(), static_cast<std::streamsize>(block.size()));
  std::string_view text(block.data(), static_cast<std::size_t>(stream.gcount()));
  if (text.starts_with(edf_version)) return true;
  int rows = 0, others = 0;
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    if (end == std::string_view::npos && rows + others > 0) break;  // cut by the end of the block
    const std::string_view line = text.substr(0, end);
    if (line.find_first_not_of(" \t\r") != std::string_view::npos && line.front() != '#')
      ++(is_row(line) ? rows : others);
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  }
  return rows > others;
}

}  // namespace pulsewright::program
