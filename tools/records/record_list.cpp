#include "record_list.hpp"

#include <glob.h>

#include <algorithm>
#include <array>
#include <fstream>
#include <iostream>
#include <set>
#include <sstream>

#include "beat_list.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/report.hpp"
#include "record_table.hpp"
#include "recording_content.hpp"

namespace pulsewright::program {
namespace fs = std::filesystem;
namespace {

constexpr std::array<std::string_view, 5> recording_suffixes{".csv", ".tsv", ".txt", ".edf", ".hea"};
/// Parts of an open record that stand beside its header.
constexpr std::array<std::string_view, 3> record_parts{".hea", ".dat", ".atr"};

/// Files that publishers put beside their recordings.
constexpr std::array<std::string_view, 3> not_recordings{"README", "LICENSE", "SHA256SUMS"};

bool is_recording_name(const fs::path& file) {
  for (const std::string_view name : not_recordings)
    if (file.stem().string().starts_with(name)) return false;
  return std::find(recording_suffixes.begin(), recording_suffixes.end(), file.extension()) != recording_suffixes.end();
}

/// An open record is named without its suffix; any other file by itself.
fs::path record_of(const fs::path& file) {
  const bool part = std::find(record_parts.begin(), record_parts.end(), file.extension()) != record_parts.end();
  const fs::path record = fs::path(file).replace_extension();
  std::error_code ignored;
  return part && fs::exists(fs::path(record).replace_extension(".hea"), ignored) ? record : file;
}

/// Records that the header of a longer one names as its segments: the lines after `NAME/COUNT ...` (header(5) of the physionet.org manual).
std::set<std::string> segments_named_in(const fs::path& header) {
  std::set<std::string> names;
  std::ifstream lines(header);
  bool first = true, segmented = false;
  for (std::string line; std::getline(lines, line);) {
    std::istringstream words(line);
    std::string word;
    if (!(words >> word) || word.front() == '#') continue;
    if (first) segmented = word.find('/') != std::string::npos;
    if (!first && segmented) names.insert(word);
    first = false;
  }
  return names;
}

std::vector<ListedRecord> sorted_once(std::vector<ListedRecord> records) {
  std::sort(records.begin(), records.end(),
            [](const ListedRecord& a, const ListedRecord& b) { return a.name < b.name; });
  const auto same = [](const ListedRecord& a, const ListedRecord& b) { return a.name == b.name; };
  records.erase(std::unique(records.begin(), records.end(), same), records.end());
  return records;
}

/// The part of a pattern before the folder that first holds a wildcard.
fs::path fixed_part(const std::string& pattern) {
  const std::size_t wildcard = pattern.find_first_of("*?[");
  const std::size_t slash = pattern.rfind('/', wildcard);
  return slash == std::string::npos ? fs::path{} : fs::path(pattern.substr(0, slash));
}

std::vector<fs::path> files_of_pattern(const std::string& pattern) {
  glob_t found{};
  const int failure = ::glob(pattern.c_str(), GLOB_NOSORT, nullptr, &found);
  std::vector<fs::path> files;
  for (std::size_t i = 0; failure == 0 && i < found.gl_pathc; ++i) {
    std::error_code ignored;
    if (!fs::is_directory(found.gl_pathv[i], ignored)) files.emplace_back(found.gl_pathv[i]);
  }
  ::globfree(&found);
  if (files.empty()) throw Error(ErrorCode::unreadable, pattern + ": no file matches this pattern");
  return files;
}

std::vector<ListedRecord> records_of_pattern(const std::string& pattern) {
  std::vector<ListedRecord> records;
  const fs::path base = fixed_part(pattern);
  for (const fs::path& file : files_of_pattern(pattern)) {
    const fs::path record = record_of(file);
    records.push_back({record, base.empty() ? record.string() : record.lexically_relative(base).string()});
  }
  return sorted_once(std::move(records));
}

/// A line of a list: the path on it and where it stands.
struct ListLine {
  std::string path;
  int number = 0;
};

std::vector<ListLine> lines_of_list(std::istream& lines, const std::string& list) {
  std::vector<ListLine> found;
  int number = 0;
  for (std::string line; std::getline(lines, line);) {
    ++number;
    if (line.find('\0') != std::string::npos)
      throw Error(ErrorCode::unreadable,
                  list + ":" + std::to_string(number) + ": holds a zero byte; a list is text with one path a line");
    const std::size_t begin = line.find_first_not_of(" \t\r");
    if (begin == std::string::npos || line[begin] == '#') continue;
    found.push_back({line.substr(begin, line.find_last_not_of(" \t\r") - begin + 1), number});
  }
  return found;
}

/// A text is a list when one of its first lines, as many as this, names something that is there.
constexpr std::size_t lines_asked = 20;

/// Records of a list whose paths are relative to `folder`. Single paths may be missing, which their rows then say.
std::vector<ListedRecord> records_of_list(std::istream& stream, const std::string& list, const fs::path& folder) {
  const std::vector<ListLine> lines = lines_of_list(stream, list);
  const std::size_t asked = std::min(lines.size(), lines_asked);
  const bool any_there = std::any_of(lines.begin(), lines.begin() + static_cast<std::ptrdiff_t>(asked),
                                     [&folder](const ListLine& line) { return is_there(folder / line.path); });
  if (!lines.empty() && !any_there) {
    constexpr std::size_t longest_shown = 60;
    const std::string& first = lines.front().path;
    throw Error(ErrorCode::unreadable, list + ":" + std::to_string(lines.front().number) + ": '" +
                                           first.substr(0, longest_shown) +
                                           (first.size() > longest_shown ? "..." : "") + "' is no file or record" +
                                           (asked > 1 ? ", nor is any of the lines after it" : "") +
                                           "; a list has one path a line, relative to itself");
  }
  std::vector<ListedRecord> records;
  records.reserve(lines.size());
  for (const ListLine& line : lines) records.push_back(listed(folder, line.path));
  return records;
}

/// Whether a line near the start of a text names something that is there.
bool names_a_path(const fs::path& file) {
  std::ifstream lines(file, std::ios::binary);
  std::string line(1024, '\0');
  for (std::size_t asked = 0;
       asked < lines_asked && lines.getline(line.data(), static_cast<std::streamsize>(line.size()));) {
    const std::string_view text(line.data());
    const std::size_t begin = text.find_first_not_of(" \t\r");
    if (begin == std::string_view::npos || text[begin] == '#') continue;
    ++asked;
    if (is_there(file.parent_path() / text.substr(begin, text.find_last_not_of(" \t\r") - begin + 1))) return true;
  }
  return false;
}

}  // namespace

bool is_there(const fs::path& path) {
  std::error_code ignored;
  return fs::exists(path, ignored) || fs::exists(fs::path(path).concat(".hea"), ignored);
}

ListedRecord listed(const fs::path& folder, const std::string& path) {
  const fs::path file = folder / path;
  const fs::path record = record_of(file);
  return {record, record == file ? path : fs::path(path).replace_extension().string()};
}

std::vector<ListedRecord> records_in_folder(const fs::path& folder) {
  std::error_code failure;
  std::vector<ListedRecord> records;
  std::set<std::string> segments;
  for (fs::directory_iterator entry(folder, failure), end; !failure && entry != end; entry.increment(failure)) {
    const fs::path file = entry->path();
    std::error_code ignored;
    if (file.filename().string().front() == '.' || !is_recording_name(file) || entry->is_directory(ignored)) continue;
    if (is_device_or_pipe(file)) continue;  // nobody may ever write into it
    if (file.extension() == ".hea") segments.merge(segments_named_in(file));
    if (file.extension() != ".hea" && (is_truth_file(file) || is_beat_list(file))) continue;
    const fs::path record = record_of(file);
    records.push_back({record, record.filename().string()});
  }
  if (failure)
    throw Error(ErrorCode::unreadable, folder.string() + ": the folder cannot be read: " + failure.message());
  std::erase_if(records, [&segments](const ListedRecord& record) { return segments.contains(record.name); });
  return sorted_once(std::move(records));
}

std::vector<fs::path> files_of(const std::string& input, const std::string& suffix) {
  std::error_code failure;
  std::vector<fs::path> files;
  if (fs::is_directory(input, failure)) {
    for (fs::directory_iterator entry(input, failure), end; !failure && entry != end; entry.increment(failure))
      if (entry->path().extension() == suffix) files.push_back(entry->path());
    if (files.empty()) throw Error(ErrorCode::unreadable, input + ": no file here ends in " + suffix);
  } else if (fs::exists(input, failure)) {
    files.emplace_back(input);
  } else {
    files = files_of_pattern(input);
  }
  std::sort(files.begin(), files.end());
  return files;
}

std::vector<ListedRecord> list_records(const std::string& input, bool one_file) {
  std::error_code failure;
  if (input == "-") return records_of_list(std::cin, "standard input", {});
  const fs::path path(input);
  if (fs::is_directory(path, failure)) return records_in_folder(path);
  const fs::path record = record_of(path);
  if (record != path || (!fs::exists(path, failure) && is_there(path))) return {{record, record.filename().string()}};
  if (fs::exists(path, failure)) {
    if (is_record_table(path)) return records_of_table(path);
    if (!names_a_path(path) && (one_file || holds_a_recording(path))) return {{path, path.filename().string()}};
    std::ifstream lines(path, std::ios::binary);
    if (!lines) throw Error(ErrorCode::unreadable, input + ": the list cannot be opened");
    return records_of_list(lines, input, path.parent_path());
  }
  if (input.find_first_of("*?[") != std::string::npos) return records_of_pattern(input);
  throw Error(ErrorCode::unreadable, input + ": there is no such folder, list, recording or pattern");
}

}  // namespace pulsewright::program
