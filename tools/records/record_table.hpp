/// A table of records: a column `file`, and columns of what is asked of each in place of the common options.
#pragma once

#include <filesystem>
#include <vector>

#include "record_list.hpp"

namespace pulsewright::program {

/// Whether the first line that is no comment names a column `file`.
[[nodiscard]] bool is_record_table(const std::filesystem::path& path);

/// Records in the order of the table; paths are relative to it. The other columns are keys of `with_options` (`channels`, `rate_hz`, `start_s`, `end_s`, `kind`, `code`,
/// `age_years`, `resting_bpm`, ...); an empty cell leaves the common option alone, and several names in one cell are parted by `|`. A file may stand in several rows, as with stretches
/// of one recording: its name then ends in the line, as `climb.csv#4`.
/// Throws Error{unreadable} with every fault by line: a column that is no option, a value that an option refuses, a row without a file; and when none of its files is there.
[[nodiscard]] std::vector<ListedRecord> records_of_table(const std::filesystem::path& path);

}  // namespace pulsewright::program
