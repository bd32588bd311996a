#include "pulsewright/erase_code.hpp"
#include "pulsewright/json.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <map>
#include <set>
#include <sstream>

#include "pulsewright/report.hpp"
#include "pulsewright/roster.hpp"
#include "pulsewright/table.hpp"
#include "roster_fields.hpp"

namespace pulsewright {

namespace fs = std::filesystem;

namespace {

/// Larger files are recordings, and are known by their names and session sheets only.
constexpr std::uintmax_t largest_text = std::uintmax_t{64} << 20;

std::string bytes_of(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream bytes;
  if (file.peek() != std::ifstream::traits_type::eof()) bytes << file.rdbuf();
  if (file.bad() || !file.is_open() || bytes.fail())
    throw Error{ErrorCode::unreadable, path.string() + ": cannot be read, so that nothing can be said of it"};
  return std::move(bytes).str();
}

bool is_word_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
         (static_cast<unsigned char>(c) & 0x80) != 0;
}

/// Whether the code stands in the text, with no letters of a longer word about it, and not as the beginning of a longer code.
bool holds_word(const std::string& text, const std::string& code, const std::set<std::string>& longer_codes) {
  for (std::size_t at = text.find(code); at != std::string::npos; at = text.find(code, at + 1)) {
    const std::size_t end = at + code.size();
    const bool longer = std::any_of(longer_codes.begin(), longer_codes.end(), [&](const std::string& other) {
      return text.compare(at, other.size(), other) == 0;
    });
    const bool starts = at == 0 || !is_word_letter(text[at - 1]);
    if (starts && !longer && (end == text.size() || !is_word_letter(text[end]))) return true;
  }
  return false;
}

/// Whether a file is the code's by its own name, or by that of a folder on the way to it from `root`.
bool is_named_for(const fs::path& path, const fs::path& root, const std::string& code) {
  const std::string name = path.filename().string();
  if (name.starts_with(code)) {
    const std::string rest = name.substr(code.size());
    if (rest.empty() || rest.front() == '.' || rest.front() == '_' || rest.front() == '-') return true;
  }
  for (const fs::path& part : path.parent_path().lexically_relative(root.parent_path()))
    if (part == code) return true;
  return false;
}

std::vector<fs::path> files_in(const std::vector<fs::path>& paths, std::map<fs::path, fs::path>& root_of) {
  std::set<fs::path> files;
  for (const fs::path& given : paths) {
    const fs::path path = given.lexically_normal();
    std::error_code failure;
    if (fs::is_directory(path, failure)) {
      fs::recursive_directory_iterator entry(path, failure);
      for (; !failure && entry != fs::recursive_directory_iterator{}; entry.increment(failure))
        if (!entry->is_symlink() && entry->is_regular_file()) {
          files.insert(entry->path());
          root_of[entry->path()] = path;
        }
      if (failure)
        throw Error{ErrorCode::unreadable, given.string() + ": a folder in it cannot be read: " + failure.message()};
    } else if (fs::is_regular_file(path, failure)) {
      files.insert(path);
      root_of[path] = path;
    } else {
      throw Error{ErrorCode::unreadable, given.string() + ": no file and no folder of that name"};
    }
  }
  return {files.begin(), files.end()};
}

/// The text without some of its lines, counted from 1.
std::string without_lines(const std::string& text, const std::set<std::int64_t>& lines) {
  std::string kept;
  std::int64_t number = 1;
  for (std::size_t at = 0; at < text.size(); ++number) {
    const std::size_t end = std::min(text.find('\n', at), text.size() - 1) + 1;
    if (!lines.contains(number)) kept.append(text, at, end - at);
    at = end;
  }
  return kept;
}

/// Takes the entries of the code out of the lists of a document; returns how many.
int remove_entries(Json& document, const std::string& code) {
  int removed = 0;
  for (const char* list : {"people", "members"}) {
    if (!document.is_object() || !document.contains(list) || !document[list].is_array()) continue;
    auto kept = Json::array();
    for (auto& entry : document[list]) {
      const bool direct = entry.is_object() && entry.value("code", Json{}) == code;
      removed += direct;
      if (!direct) kept.push_back(std::move(entry));
    }
    document[list] = std::move(kept);
  }
  return removed;
}

bool is_of_person(const Json& document, const std::string& code) {
  return document.is_object() && document.contains("person") && document["person"].is_object() &&
         document["person"].value("code", Json{}) == code;
}

/// Who the session sheets among the files give each recording to.
using Owners = std::map<fs::path, std::set<std::string>>;

class Eraser {
 public:
  Eraser(std::string code, const std::vector<fs::path>& paths) : files_(files_in(paths, root_of_)) {
    plan_.code = std::move(code);
  }

  ErasePlan plan() {
    for (const fs::path& file : files_) collect_codes(file);
    for (const fs::path& file : files_) {
      if (!belongs_to_longer_code(file) && is_named_for(file, root_of_.at(file), plan_.code))
        plan_.files.push_back(file);
      else
        look_into(file);
    }
    add_owned_recordings();
    std::sort(plan_.files.begin(), plan_.files.end());
    plan_.files.erase(std::unique(plan_.files.begin(), plan_.files.end()), plan_.files.end());
    return std::move(plan_);
  }

 private:
  /// Codes of other people that begin with this one: `wren_b` beside `wren`. Their files must stay.
  void collect_codes(const fs::path& file) {
    if (fs::file_size(file) > largest_text) return;
    const std::string text = bytes_of(file);
    if (text.find('\0') != std::string::npos || text.find(plan_.code) == std::string::npos) return;
    const auto note = [&](const std::string& code) {
      if (code.size() > plan_.code.size() && code.starts_with(plan_.code)) longer_codes_.insert(code);
    };
    try {
      const Table table = table_of(text, file.string());
      if (table.column("code"))
        for (const TableRow& row : table.rows) note(std::string{table.cell(row, "code")});
    } catch (const Error&) {
      const auto document = Json::parse_or_discard(text);
      if (document.is_discarded() || !document.is_object() || !document.contains("people")) return;
      for (const auto& person : document["people"])
        if (person.is_object() && person.contains("code") && person["code"].is_string())
          note(person["code"].get<std::string>());
    }
  }

  bool belongs_to_longer_code(const fs::path& file) const {
    return std::any_of(longer_codes_.begin(), longer_codes_.end(),
                       [&](const std::string& code) { return is_named_for(file, root_of_.at(file), code); });
  }

  void look_into(const fs::path& file) {
    if (fs::file_size(file) > largest_text) return;
    const std::string text = bytes_of(file);
    if (text.find('\0') != std::string::npos || !holds_word(text, plan_.code, longer_codes_)) return;
    if (!look_into_json(file, text) && !look_into_table(file, text))
      plan_.left.push_back(file.string() + " names the code; look at it yourself");
  }

  bool look_into_json(const fs::path& file, const std::string& text) {
    auto document = Json::parse_or_discard(text);
    if (document.is_discarded()) return false;
    if (is_of_person(document, plan_.code)) {
      plan_.files.push_back(file);
      return true;
    }
    const int removed = remove_entries(document, plan_.code);
    if (removed == 0) return false;
    plan_.rewritten.push_back({file, removed, document.dump(2) + "\n"});
    return true;
  }

  bool look_into_table(const fs::path& file, const std::string& text) {
    Table table;
    try {
      table = table_of(text, file.string());
    } catch (const Error&) {
      return false;  // some other text
    }
    if (!table.column("code")) return false;
    std::set<std::int64_t> lines;
    const bool is_sheet = table.column("file").has_value();
    for (const TableRow& row : table.rows) {
      const std::string code{table.cell(row, "code")};
      if (code == plan_.code) lines.insert(row.line);
      if (is_sheet && !table.cell(row, "file").empty())
        owners_[(file.parent_path() / std::string{table.cell(row, "file")}).lexically_normal()].insert(code);
    }
    if (lines.empty()) return false;
    plan_.rewritten.push_back({file, static_cast<int>(lines.size()), without_lines(text, lines)});
    return true;
  }

  void add_owned_recordings() {
    for (const auto& [recording, codes] : owners_) {
      if (!codes.contains(plan_.code)) continue;
      const std::vector<fs::path> parts = parts_of(recording);
      if (codes.size() == 1)
        plan_.files.insert(plan_.files.end(), parts.begin(), parts.end());
      else
        plan_.left.push_back(recording.string() + " is shared with others of the session sheet; its stretches stay");
      if (parts.empty())
        plan_.left.push_back(recording.string() + " stands in a session sheet and lies outside what was named");
    }
  }

  /// The files of a recording among those that were named: itself, or those of an open record, which goes by its name without suffix.
  std::vector<fs::path> parts_of(const fs::path& recording) const {
    std::vector<fs::path> parts;
    for (const fs::path& file : files_)
      if (file == recording || (!recording.has_extension() && file.parent_path() / file.stem() == recording))
        parts.push_back(file);
    return parts;
  }

  std::map<fs::path, fs::path> root_of_;
  std::vector<fs::path> files_;
  std::set<std::string> longer_codes_;
  Owners owners_;
  ErasePlan plan_;
};

}  // namespace

ErasePlan plan_erasure(const std::string& code, const std::vector<fs::path>& paths) {
  if (const std::string rule = fault_of_code(code); !rule.empty())
    throw Error{ErrorCode::usage, fmt::format("'{}' is no code: {}", code, rule)};
  return Eraser{code, paths}.plan();
}

void erase(const ErasePlan& plan) {
  for (const RewrittenFile& file : plan.rewritten) write_file(file.path, file.bytes);
  for (const fs::path& file : plan.files) {
    std::error_code failure;
    fs::remove(file, failure);
    if (failure) throw Error{ErrorCode::unwritable, file.string() + ": cannot be deleted: " + failure.message()};
  }
}

}  // namespace pulsewright
