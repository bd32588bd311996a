/// The rows of a batch as an SQLite file.
#pragma once

#include <filesystem>
#include <span>

#include "pulsewright/batch.hpp"

namespace pulsewright::program {

/// Throws Error{usage} when the file is there and is no database that `write_database` wrote.
void check_database_target(const std::filesystem::path& file);

/// Writes a file with one table, `records`: a row a record in their order, the columns of `batch_csv` (absent values are NULL, numbers unrounded), then `sha256`; and
/// `provenance` with `version` and `options`. The file appears complete or not at all. Throws Error{unwritable}.
void write_database(const std::filesystem::path& file, std::span<const BatchRow> rows, const Provenance& provenance);

}  // namespace pulsewright::program
