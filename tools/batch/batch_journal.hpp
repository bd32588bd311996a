/// What a batch has done so far, in a file that survives the end of the process: a line that says what the batch is, then a line a record, each
/// appended when the record is done.
#pragma once

#include <cstddef>
#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include "pulsewright/batch.hpp"

namespace pulsewright::program {

/// What has to be the same for two journals to belong to one batch.
struct BatchIdentity {
  std::string version;         ///< of the program
  std::string options;         ///< those of every record, as a JSON object
  std::size_t records = 0;     ///< in the whole batch, all shards together
  std::string records_sha256;  ///< of their names and own options, in order

  friend bool operator==(const BatchIdentity&, const BatchIdentity&) = default;
};

/// The first line of a journal, with its line end.
[[nodiscard]] std::string journal_beginning(const BatchIdentity& identity);
/// What is to be done about one record, for whoever works on it elsewhere: a line with its end.
[[nodiscard]] std::string job_line(std::size_t position, const std::string& file, const std::filesystem::path& path,
                                   const std::string& options);

/// A journal open for appending. Other processes are kept out while it is.
class BatchJournal {
 public:
  /// Opens or begins one. A last line that was cut off by the end of a process is taken away. Throws Error{usage} when the journal is of another batch
  /// (and says what differs) or in use, Error{unreadable} naming the line when it is none, Error{unwritable}.
  BatchJournal(const std::filesystem::path& file, const BatchIdentity& identity);
  BatchJournal(const BatchJournal&) = delete;
  BatchJournal& operator=(const BatchJournal&) = delete;
  ~BatchJournal();

  /// Rows by position in the batch.
  [[nodiscard]] const std::map<std::size_t, BatchRow>& rows() const { return rows_; }
  /// Adds a row; it is in the file when this returns. Throws Error{unwritable}.
  void add(std::size_t position, BatchRow row);

 private:
  void append(const std::string& line);

  std::filesystem::path file_;
  int descriptor_ = -1;
  std::map<std::size_t, BatchRow> rows_;
};

/// The rows of several journals of one batch as that batch would have them. Throws Error{unreadable} for what is no journal, journals of different
/// batches, or records that none of them has; a cut-off last line is passed over.
[[nodiscard]] std::vector<BatchRow> merged_rows(const std::vector<std::filesystem::path>& journals,
                                                BatchIdentity& identity);

}  // namespace pulsewright::program
