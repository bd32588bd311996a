/// The records of a folder, a pattern, or a list file: one entry a record, not one a file of it.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace pulsewright::program {

struct ListedRecord {
  std::filesystem::path path;  ///< what `read_recording` takes; an open record without its suffix
  std::string name;            ///< relative to the folder, the pattern's fixed part, or the list's folder
};

/// Records in the order of their names' bytes (a list keeps its own order), each once.
///
/// A folder gives its open records (by their headers; the segments of a longer record are part of it) and its files that end in .csv, .tsv,
/// .txt, .edf; not hidden files, not files of beats or of truth beside a recording. A pattern (*, ?, [...]) gives what it matches, and a list file
/// one path a line, relative to the list; blank lines and lines that begin with # are passed over.
/// Throws Error{unreadable} when the folder or list cannot be read, or a pattern matches nothing.
[[nodiscard]] std::vector<ListedRecord> list_records(const std::string& input);

/// The records of one folder, as above.
[[nodiscard]] std::vector<ListedRecord> records_in_folder(const std::filesystem::path& folder);

}  // namespace pulsewright::program
