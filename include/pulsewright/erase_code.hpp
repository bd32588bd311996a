/// Deletes what is kept of one person.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace pulsewright {

/// A file that stays, without the rows of the code.
struct RewrittenFile {
  std::filesystem::path path;
  int rows = 0;       ///< that go
  std::string bytes;  ///< what stays
};

/// What would be deleted; nothing is touched until `erase`.
struct ErasePlan {
  std::string code;
  std::vector<std::filesystem::path> files;  ///< deleted whole
  std::vector<RewrittenFile> rewritten;
  std::vector<std::string> left;  ///< what names the code and is left for a person to look at, and why

  [[nodiscard]] bool empty() const { return files.empty() && rewritten.empty(); }
};

/// Looks through files and folders (with what lies in them; symbolic links are not followed).
///
/// Deleted whole: a file whose name is the code or begins with it and a mark (`wren.csv`, `wren_climb.csv`); every file of a folder whose name is the code; a JSON document whose
/// `person.code` is the code; a recording that a session sheet among the files gives to the code and to nobody else.
/// Rewritten: a table with a column `code`, less the rows of the code; a JSON roster or class, less its entry.
/// Left and named: a recording that others share, and any other text file in which the code stands as a word.
/// Throws Error{usage} for a code that is empty or holds other characters than letters, digits, `-` and `_`; Error{unreadable} for a path that is not there.
[[nodiscard]] ErasePlan plan_erasure(const std::string& code, const std::vector<std::filesystem::path>& paths);

/// Carries the plan out. Throws Error{unwritable} at the first file that cannot be deleted or written, naming it; what was done before stays done.
void erase(const ErasePlan& plan);

}  // namespace pulsewright
