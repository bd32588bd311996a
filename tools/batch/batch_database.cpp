#include "batch_database.hpp"

#include <sqlite3.h>
#include <unistd.h>

#include <memory>
#include <string>

#include "options/output_target.hpp"
#include "pulsewright/error.hpp"
#include "pulsewright/json.hpp"

namespace pulsewright::program {
namespace {

struct Column {
  const char* name;
  const char* type;
};

constexpr Column columns[] = {{"file", "TEXT NOT NULL"},
                              {"status", "TEXT NOT NULL"},
                              {"exit_code", "INTEGER NOT NULL"},
                              {"reason", "TEXT"},
                              {"duration_s", "REAL"},
                              {"beats_count", "INTEGER"},
                              {"readable_percent", "REAL"},
                              {"flagged_percent", "REAL"},
                              {"mean_hr_bpm", "REAL"},
                              {"lowest_hr_bpm", "REAL"},
                              {"peak_hr_bpm", "REAL"},
                              {"mean_nn_ms", "REAL"},
                              {"sdnn_ms", "REAL"},
                              {"rmssd_ms", "REAL"},
                              {"pnn50_percent", "REAL"},
                              {"in_target_s", "REAL"},
                              {"moderate_or_harder_s", "REAL"},
                              {"target_method", "TEXT"},
                              {"resting_source", "TEXT"},
                              {"sha256", "TEXT"}};

class Database {
 public:
  explicit Database(const std::string& file) : file_(file) {
    // Even one that could not be opened is there, and has to be closed.
    sqlite3* opened = nullptr;
    const int result = ::sqlite3_open_v2(file.c_str(), &opened, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, nullptr);
    handle_.reset(opened);
    require(result);
  }

  void run(const std::string& statement) {
    require(::sqlite3_exec(handle_.get(), statement.c_str(), nullptr, nullptr, nullptr));
  }

  /// One row into a table; values in the order of its columns.
  void insert(const std::string& table, const std::vector<Json>& values) {
    std::string marks = "?";
    for (std::size_t i = 1; i < values.size(); ++i) marks += ",?";
    sqlite3_stmt* raw = nullptr;
    const std::string statement = "INSERT INTO " + table + " VALUES (" + marks + ")";
    require(::sqlite3_prepare_v2(handle_.get(), statement.c_str(), -1, &raw, nullptr));
    const std::unique_ptr<sqlite3_stmt, int (*)(sqlite3_stmt*)> prepared(raw, &::sqlite3_finalize);
    for (std::size_t i = 0; i < values.size(); ++i) bind(raw, static_cast<int>(i) + 1, values[i]);
    if (::sqlite3_step(raw) != SQLITE_DONE) require(SQLITE_ERROR);
  }

 private:
  void bind(sqlite3_stmt* statement, int place, const Json& value) {
    if (value.is_integer())
      require(::sqlite3_bind_int64(statement, place, value.get<std::int64_t>()));
    else if (value.is_number())
      require(::sqlite3_bind_double(statement, place, value.get<double>()));
    else if (const auto* text = value.text_if())
      require(::sqlite3_bind_text(statement, place, text->data(), static_cast<int>(text->size()), nullptr));
    else
      require(::sqlite3_bind_null(statement, place));
  }

  void require(int outcome) {
    if (outcome != SQLITE_OK)
      throw Error(ErrorCode::unwritable,
                  file_ + ": the database cannot be written: " + ::sqlite3_errmsg(handle_.get()));
  }

  std::string file_;
  std::unique_ptr<sqlite3, int (*)(sqlite3*)> handle_{nullptr, &::sqlite3_close};
};

std::string table_statement() {
  std::string list;
  for (const Column& column : columns)
    list += (list.empty() ? "" : ", ") + std::string(column.name) + " " + column.type;
  return "CREATE TABLE records (" + list + ")";
}

std::vector<Json> values_of(const BatchRow& row) {
  const Json object = Json::parse(line_of_row(row));
  std::vector<Json> values;
  for (const Column& column : columns)
    values.push_back(object.contains(column.name) ? object.at(column.name) : Json(nullptr));
  return values;
}

}  // namespace

void check_database_target(const std::filesystem::path& file) {
  check_output_target("--database", file, database_begins, "database of batch");
  std::error_code failure;
  if (!std::filesystem::exists(file, failure) || std::filesystem::file_size(file, failure) == 0) return;
  try {
    Database(file.string()).run("SELECT version, options FROM provenance LIMIT 1");
  } catch (const Error&) {
    throw Error(ErrorCode::usage, "--database: " + file.string() +
                                      " is another database, without the table provenance; it is not replaced. Name "
                                      "another file");
  }
}

void write_database(const std::filesystem::path& file, std::span<const BatchRow> rows, const Provenance& provenance) {
  std::error_code failed;
  const bool is_link = std::filesystem::is_symlink(std::filesystem::symlink_status(file, failed));
  const std::filesystem::path target = is_link ? std::filesystem::weakly_canonical(file, failed) : file;
  const std::string unfinished = target.string() + ".unfinished-" + std::to_string(::getpid());
  std::error_code ignored;
  if (target.has_parent_path()) std::filesystem::create_directories(target.parent_path(), ignored);
  try {
    {
      Database database(unfinished);
      database.run("PRAGMA journal_mode = OFF; BEGIN");
      database.run(table_statement());
      for (const BatchRow& row : rows) database.insert("records", values_of(row));
      database.run("CREATE TABLE provenance (version TEXT NOT NULL, options TEXT NOT NULL)");
      database.insert("provenance", {provenance.version, provenance.options});
      database.run("COMMIT");
    }
    std::filesystem::rename(unfinished, target);
  } catch (const std::filesystem::filesystem_error& error) {
    std::filesystem::remove(unfinished, ignored);
    throw Error(ErrorCode::unwritable, target.string() + ": the database cannot be written: " + error.code().message());
  } catch (...) {
    std::filesystem::remove(unfinished, ignored);
    throw;
  }
}

}  // namespace pulsewright::program
