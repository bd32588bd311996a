/// What an output file may take the place of.
#pragma once

#include <filesystem>
#include <string_view>

namespace pulsewright::program {

/// Throws Error{usage} when `file` is a folder, a device or a pipe, or holds something that does not begin as this program's own files of the kind do: the input, say. `option` and `kind`
/// (as in "page") are for the message. Nothing is wrong with an empty name, a file that is not there or an empty one.
void check_output_target(std::string_view option, const std::filesystem::path& file, std::string_view begins,
                         std::string_view kind);

/// How a page begins, and a database.
inline constexpr std::string_view page_begins = "<!doctype html>\n";
inline constexpr std::string_view database_begins = "SQLite format 3";

}  // namespace pulsewright::program
