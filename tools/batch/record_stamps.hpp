/// Whether a record's files were changed since it was worked on.
#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <vector>

namespace pulsewright::program {

/// The state of records' files, each folder listed once.
class RecordStamps {
 public:
  /// How many files a record has, how long they are together, and when the latest was written. `record`
  /// is a file, or an open record by its path without suffix, to which all files belong that continue
  /// its name with `.`, `_` or `-`.
  [[nodiscard]] std::string of(const std::filesystem::path& record);

 private:
  std::map<std::filesystem::path, std::vector<std::string>> names_;  ///< of each folder, sorted
};

}  // namespace pulsewright::program
