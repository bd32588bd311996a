/// The records of a folder, a pattern, a list file or a single recording: one entry a record, not one a file of it.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace pulsewright::program {

struct ListedRecord {
  std::filesystem::path path;  ///< what `read_recording` takes; an open record without its suffix
  std::string
      name;  ///< relative to the folder, the pattern's fixed part, or the list's folder; of a single file its name
  std::string options = {};  ///< of its own, as a JSON object for `with_options`; empty when it has none
};

/// Whether a path is a file, or the name of an open record.
[[nodiscard]] bool is_there(const std::filesystem::path& path);
/// The record that a list or table in `folder` calls `path`.
[[nodiscard]] ListedRecord listed(const std::filesystem::path& folder, const std::string& path);

/// Records in the order of their names' bytes (a list keeps its own order), each once.
///
/// A folder gives its open records (by their headers; the segments of a longer record are part of it) and its files that end in .csv, .tsv,
/// .txt, .edf; not hidden files, README, LICENSE and SHA256SUMS files, files of beats, or of truth beside a recording. A pattern (*, ?, [...]) gives what it matches, and a list file
/// one path a line, relative to the list; blank lines and lines that begin with # are passed over. `-` is a list on standard input, relative to
/// the working folder. A table with a column `file` is a list with options (record_table.hpp). A file without a line that is a path, and with the content of a recording, is itself the one record; with `one_file` the
/// content may be anything (a list of beats or intervals).
/// Throws Error{unreadable} when the folder or list cannot be read, no line of a list is a path, or a pattern matches nothing.
[[nodiscard]] std::vector<ListedRecord> list_records(const std::string& input, bool one_file = false);

/// The files that end in `suffix` of a folder, or those that a pattern matches, or the one file; in the order of their names' bytes.
/// Throws Error{unreadable} when there is none.
[[nodiscard]] std::vector<std::filesystem::path> files_of(const std::string& input, const std::string& suffix);

/// The records of one folder, as above.
[[nodiscard]] std::vector<ListedRecord> records_in_folder(const std::filesystem::path& folder);

}  // namespace pulsewright::program
