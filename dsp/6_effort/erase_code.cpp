#include "pulsewright/erase_code.hpp"
#include "pulsewright/json.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <set>

#include "code_search.hpp"
#include "pulsewright/read.hpp"
#include "pulsewright/report.hpp"
#include "pulsewright/roster.hpp"
#include "pulsewright/table.hpp"
#include "roster_fields.hpp"

namespace pulsewright {

namespace fs = std::filesystem;

namespace {

/// No roster, sheet or log is longer: 64 MiB.
constexpr std::uintmax_t longest_list = std::uintmax_t{64} << 20;

/// What `analyze` writes into a folder: all of it is of the person that its `analysis.json` names.
constexpr std::array<std::string_view, 7> files_of_analyze{
    "beats.csv", "intervals.csv", "rate.csv", "variability.json", "effort.json", "analysis.json", "summary.txt"};

/// The name by which the same file is known, however it was written.
fs::path known_as(const fs::path& path) {
  std::error_code failure;
  const fs::path canonical = fs::weakly_canonical(path, failure);
  return failure ? path.lexically_normal() : canonical;
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

/// A file among those to look through.
struct Looked {
  fs::path path;   ///< as named
  fs::path root;   ///< what was named: the file, or a folder above it
  fs::path known;  ///< by which it is told from others
};

std::vector<Looked> files_in(const std::vector<fs::path>& paths) {
  std::map<fs::path, Looked> files;
  const auto add = [&](const fs::path& file, const fs::path& root) {
    const fs::path known = known_as(file);
    files.try_emplace(known, Looked{file.lexically_normal(), root, known});
  };
  for (const fs::path& given : paths) {
    const fs::path path = given.lexically_normal();
    std::error_code failure;
    if (fs::is_directory(path, failure)) {
      fs::recursive_directory_iterator entry(path, failure);
      for (; !failure && entry != fs::recursive_directory_iterator{}; entry.increment(failure))
        if (!entry->is_symlink() && entry->is_regular_file()) add(entry->path(), path);
      if (failure)
        throw Error{ErrorCode::unreadable, given.string() + ": a folder in it cannot be read: " + failure.message()};
    } else if (fs::is_regular_file(path, failure)) {
      add(path, path);
    } else {
      throw Error{ErrorCode::unreadable, given.string() + ": no file and no folder of that name"};
    }
  }
  std::vector<Looked> listed;
  for (auto& [known, file] : files) listed.push_back(std::move(file));
  std::sort(listed.begin(), listed.end(), [](const Looked& a, const Looked& b) { return a.path < b.path; });
  return listed;
}

/// Whether a file may be a roster, a session sheet or a log: a text with the word for a code near its beginning.
bool may_be_list(const fs::path& path) {
  constexpr std::size_t looked_at_bytes = 65536;
  std::error_code failure;
  if (fs::file_size(path, failure) > longest_list || failure) return false;
  const std::string beginning = beginning_of_file(path, looked_at_bytes);
  if (beginning.find('\0') != std::string::npos) return false;
  for (const char* word : {"code", "Code", "CODE"})
    if (beginning.find(word) != std::string::npos) return true;
  return false;
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

/// Who the session sheets among the files give a recording to, and the first sheet that does.
struct Ownership {
  std::set<std::string> codes;
  fs::path named;  ///< the recording as the sheet names it
  fs::path sheet;
};

class Eraser {
 public:
  Eraser(std::string code, const std::vector<fs::path>& paths)
      : by_name_(fault_of_code(code).empty()), files_(files_in(paths)) {
    plan_.code = std::move(code);
  }

  ErasePlan plan() {
    for (const Looked& file : files_) collect(file);
    for (const Looked& file : files_) {
      const bool named = by_name_ && !belongs_to_longer_code(file) && is_named_for(file.path, file.root, plan_.code);
      if (named && is_given_to_others(file)) continue;
      if (named)
        plan_.files.push_back(file.path);
      else
        look_into(file);
    }
    add_owned_recordings();
    std::sort(plan_.files.begin(), plan_.files.end());
    plan_.files.erase(std::unique(plan_.files.begin(), plan_.files.end()), plan_.files.end());
    // What goes whole is not rewritten before.
    std::erase_if(plan_.rewritten, [&](const RewrittenFile& file) {
      return std::binary_search(plan_.files.begin(), plan_.files.end(), file.path);
    });
    return std::move(plan_);
  }

 private:
  void note_code(const std::string& code) {
    if (code.size() > plan_.code.size() && code.starts_with(plan_.code)) longer_codes_.insert(code);
  }

  /// Codes of other people that begin with this one, as `wren_b` beside `wren`, whose files must stay; and whose each
  /// recording is.
  void collect(const Looked& file) {
    if (!may_be_list(file.path)) return;
    const std::string text = bytes_of_file(file.path);
    try {
      const Table table = table_of(text, file.path.string());
      if (!table.column("code")) return;
      const bool is_sheet = table.column("file").has_value();
      for (const TableRow& row : table.rows) {
        const std::string code{table.cell(row, "code")};
        note_code(code);
        if (!is_sheet || table.cell(row, "file").empty()) continue;
        const fs::path named = file.path.parent_path() / std::string{table.cell(row, "file")};
        Ownership& owners =
            owners_.try_emplace(known_as(named), Ownership{{}, named.lexically_normal(), file.path}).first->second;
        owners.codes.insert(code);
      }
    } catch (const Error&) {
      const auto document = Json::parse_or_discard(text);
      if (document.is_discarded() || !document.is_object() || !document.contains("people")) return;
      for (const auto& person : document["people"])
        if (person.is_object() && person.contains("code") && person["code"].is_string())
          note_code(person["code"].get<std::string>());
    }
  }

  bool belongs_to_longer_code(const Looked& file) const {
    return std::any_of(longer_codes_.begin(), longer_codes_.end(),
                       [&](const std::string& code) { return is_named_for(file.path, file.root, code); });
  }

  /// Who a file belongs to by the session sheets; null when none speaks of it. An open record goes by its name without
  /// suffix.
  const Ownership* owners_of(const Looked& file) const {
    auto found = owners_.find(file.known);
    if (found == owners_.end()) found = owners_.find(fs::path{file.known}.replace_extension());
    return found == owners_.end() ? nullptr : &found->second;
  }

  bool is_given_to_others(const Looked& file) {
    const Ownership* owners = owners_of(file);
    if (owners == nullptr || owners->codes.contains(plan_.code)) return false;
    plan_.left.push_back(file.path.string() + " is named as of " + plan_.code + ", and " + owners->sheet.string() +
                         " gives it to " + *owners->codes.begin() + "; it stays");
    return true;
  }

  void look_into(const Looked& file) {
    std::string kind;
    switch (search_for_code(file.path, plan_.code, longer_codes_, kind)) {
      case CodeFound::no: return;
      case CodeFound::unsearched:
        plan_.left.push_back(file.path.string() + " is " + kind + ", whose content was not seen; look at it yourself");
        return;
      case CodeFound::elsewhere:
        plan_.left.push_back(file.path.string() + " (" + kind + ") names the code; look at it yourself");
        return;
      case CodeFound::in_text: break;
    }
    const std::string text = bytes_of_file(file.path);
    if (!look_into_json(file.path, text) && !look_into_table(file.path, text))
      plan_.left.push_back(file.path.string() + " names the code; look at it yourself");
  }

  bool look_into_json(const fs::path& file, const std::string& text) {
    auto document = Json::parse_or_discard(text);
    if (document.is_discarded()) return false;
    if (is_of_person(document, plan_.code)) {
      plan_.files.push_back(file);
      return true;
    }
    if (document.is_object() && document.contains("effort") && is_of_person(document["effort"], plan_.code)) {
      for (const std::string_view name : files_of_analyze)
        for (const Looked& beside : files_)
          if (beside.path == file.parent_path() / name) plan_.files.push_back(beside.path);
      if (plan_.files.empty() || plan_.files.back() != file) plan_.files.push_back(file);
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
    int rows = 0;
    for (const TableRow& row : table.rows)
      if (table.cell(row, "code") == plan_.code) {
        ++rows;
        for (std::int64_t line = row.line; line <= row.last_line; ++line) lines.insert(line);
      }
    if (lines.empty()) return false;
    plan_.rewritten.push_back({file, rows, without_lines(text, lines)});
    return true;
  }

  void add_owned_recordings() {
    for (const auto& [known, owners] : owners_) {
      if (!owners.codes.contains(plan_.code)) continue;
      const std::vector<fs::path> parts = parts_of(known);
      if (owners.codes.size() > 1) {
        plan_.left.push_back(owners.named.string() + " is shared with others of the session sheet; its stretches stay");
        std::erase_if(plan_.files,
                      [&](const fs::path& file) { return std::find(parts.begin(), parts.end(), file) != parts.end(); });
      } else {
        plan_.files.insert(plan_.files.end(), parts.begin(), parts.end());
      }
      if (parts.empty())
        plan_.left.push_back(owners.named.string() + " stands in a session sheet and lies outside what was named");
    }
  }

  /// The files of a recording among those that were named: itself, or those of an open record.
  std::vector<fs::path> parts_of(const fs::path& known) const {
    std::vector<fs::path> parts;
    for (const Looked& file : files_)
      if (file.known == known || (!known.has_extension() && file.known.parent_path() / file.known.stem() == known))
        parts.push_back(file.path);
    return parts;
  }

  bool by_name_;  ///< whether files can be named for the code
  std::vector<Looked> files_;
  std::set<std::string> longer_codes_;
  std::map<fs::path, Ownership> owners_;
  ErasePlan plan_;
};

}  // namespace

ErasePlan plan_erasure(const std::string& code, const std::vector<fs::path>& paths) {
  if (code.find_first_not_of(" \t") == std::string::npos)
    throw Error{ErrorCode::usage, "nobody goes by an empty code; name the one to forget"};
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
