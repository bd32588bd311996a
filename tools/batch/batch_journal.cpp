#include "batch_journal.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <fstream>
#include <iterator>
#include <optional>
#include <utility>

#include "pulsewright/error.hpp"
#include "pulsewright/json.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright::program {
namespace fs = std::filesystem;
namespace {

/// A line, whatever bytes are in its texts.
std::string line_of(const Json& object) { return object.dump() + "\n"; }

[[noreturn]] void refuse(const fs::path& file, std::size_t line, const std::string& rule) {
  throw Error(ErrorCode::unreadable, file.string() + ":" + std::to_string(line) + ": " + rule);
}

/// A whole journal as it is in the file.
struct JournalContent {
  std::optional<BatchIdentity> identity;  ///< nothing for an empty file
  std::map<std::size_t, BatchRow> rows;
  std::size_t complete_bytes = 0;  ///< up to the end of the last whole line
};

BatchIdentity identity_of(const std::string& line, const fs::path& file) {
  const Json object = Json::parse_or_discard(line);
  if (!object.is_object() || object.value("document", "") != "batch_journal")
    refuse(file, 1, "is no journal of a batch: its first line does not say so");
  if (object.value("schema_version", 0) != schema_version)
    refuse(file, 1,
           "was written under schema_version " + std::to_string(object.value("schema_version", 0)) +
               "; this program has " + std::to_string(schema_version));
  try {
    return {object.at("version").get<std::string>(), object.at("options").dump(),
            object.at("records_count").get<std::size_t>(), object.at("records_sha256").get<std::string>()};
  } catch (const JsonError& error) {
    refuse(file, 1, std::string("is no journal of a batch: ") + error.what());
  }
}

std::pair<std::size_t, BatchRow> entry_of(const std::string& line, std::size_t records, const fs::path& file,
                                          std::size_t number) {
  const Json object = Json::parse_or_discard(line);
  if (!object.is_object() || !object.contains("position") || !object.contains("row"))
    refuse(file, number, "is no row of a journal: " + line.substr(0, 60));
  const Json& position = object.at("position");
  if (!position.is_unsigned() || position.get<std::size_t>() >= records)
    refuse(file, number,
           "position " + position.dump() + " lies outside the batch of " + std::to_string(records) + " records");
  try {
    return {position.get<std::size_t>(), row_of_line(object.at("row").dump())};
  } catch (const Error& error) {
    refuse(file, number, error.what());
  }
}

JournalContent content_of(const fs::path& file) {
  std::ifstream stream(file, std::ios::binary);
  if (!stream) throw Error(ErrorCode::unreadable, file.string() + ": the journal cannot be opened");
  JournalContent content;
  std::size_t number = 0;
  for (std::string line; std::getline(stream, line);) {
    if (stream.eof()) break;  // no line end: cut off
    ++number;
    if (number == 1)
      content.identity = identity_of(line, file);
    else
      content.rows.insert(entry_of(line, content.identity->records, file, number));
    content.complete_bytes += line.size() + 1;
  }
  return content;
}

std::string difference(const BatchIdentity& journal, const BatchIdentity& now) {
  if (journal.version != now.version) return "by version " + journal.version + ", not " + now.version;
  if (journal.options != now.options) return "with the options " + journal.options + ", not " + now.options;
  return "for another list of records (" + std::to_string(journal.records) + ", now " + std::to_string(now.records) +
         ")";
}

}  // namespace

std::string journal_beginning(const BatchIdentity& identity) {
  return line_of({{"document", "batch_journal"},
                  {"schema_version", schema_version},
                  {"version", identity.version},
                  {"options", Json::parse(identity.options)},
                  {"records_count", identity.records},
                  {"records_sha256", identity.records_sha256}});
}

std::string job_line(std::size_t position, const std::string& file, const fs::path& path, const std::string& options) {
  return line_of({{"position", position}, {"file", file}, {"path", path.string()}, {"options", Json::parse(options)}});
}

BatchJournal::BatchJournal(const fs::path& file, const BatchIdentity& identity) : file_(file) {
  std::error_code ignored;  // what is wrong with the folder shows when the file is opened
  if (file.has_parent_path()) fs::create_directories(file.parent_path(), ignored);
  descriptor_ = ::open(file.c_str(), O_RDWR | O_CREAT | O_APPEND | O_CLOEXEC, 0666);
  if (descriptor_ < 0)
    throw Error(ErrorCode::unwritable, file.string() + ": the journal cannot be opened: " + std::strerror(errno));
  try {
    if (::flock(descriptor_, LOCK_EX | LOCK_NB) != 0)
      throw Error(ErrorCode::usage, "--journal: " + file.string() + " is in use by another run");
    JournalContent content = content_of(file);
    if (content.identity && *content.identity != identity)
      throw Error(ErrorCode::usage, "--journal: " + file.string() + " was begun " +
                                        difference(*content.identity, identity) + "; name another file to begin anew");
    if (::ftruncate(descriptor_, static_cast<off_t>(content.complete_bytes)) != 0)
      throw Error(ErrorCode::unwritable, file.string() + ": cannot write: " + std::strerror(errno));
    rows_ = std::move(content.rows);
    if (!content.identity) append(journal_beginning(identity));
  } catch (...) {
    ::close(descriptor_);
    throw;
  }
}

BatchJournal::~BatchJournal() {
  ::fdatasync(descriptor_);
  ::close(descriptor_);
}

void BatchJournal::add(std::size_t position, BatchRow row) {
  append(line_of({{"position", position}, {"row", Json::parse(line_of_row(row))}}));
  rows_.emplace(position, std::move(row));
}

void BatchJournal::append(const std::string& line) {
  std::string_view left = line;
  while (!left.empty()) {
    const ssize_t written = ::write(descriptor_, left.data(), left.size());
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) throw Error(ErrorCode::unwritable, file_.string() + ": cannot write: " + std::strerror(errno));
    left.remove_prefix(static_cast<std::size_t>(written));
  }
}

std::vector<BatchRow> merged_rows(const std::vector<fs::path>& journals, BatchIdentity& identity) {
  std::map<std::size_t, BatchRow> rows;
  std::optional<BatchIdentity> first;
  for (const fs::path& file : journals) {
    JournalContent content = content_of(file);
    if (!content.identity) throw Error(ErrorCode::unreadable, file.string() + ": the journal is empty");
    if (first && *content.identity != *first)
      throw Error(ErrorCode::unreadable, file.string() + ": was begun " + difference(*content.identity, *first) +
                                             " as in " + journals.front().string() +
                                             "; only shards of one batch merge");
    first = content.identity;
    rows.merge(content.rows);
  }
  if (!first) throw Error(ErrorCode::unreadable, "no journal to merge");
  if (rows.size() < first->records) {
    std::size_t missing = 0;
    while (rows.contains(missing)) ++missing;
    throw Error(ErrorCode::unreadable, std::to_string(first->records - rows.size()) + " of " +
                                           std::to_string(first->records) +
                                           " records are in none of the journals, the first at position " +
                                           std::to_string(missing) + "; run the shards that are not done");
  }
  identity = *first;
  std::vector<BatchRow> merged;
  merged.reserve(rows.size());
  for (auto& [position, row] : rows) merged.push_back(std::move(row));
  return merged;
}

}  // namespace pulsewright::program
