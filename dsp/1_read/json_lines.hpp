/// JSON lines: an object a line, a sample a key, as many programs and boards write them.
#pragma once

#include <string_view>

#include "labelled_lines.hpp"

namespace pulsewright::reading {

/// Whether at least half of the first lines are objects of numbers, words, texts, true, false and null.
[[nodiscard]] bool has_json_lines(std::string_view beginning);

/// The same rows as plain delimited text, line for line. The columns are the keys of the first lines, in the order in which they
/// come up; a key that a line lacks, and null, is an empty cell. A line that is no such object, or has a key that none of the first
/// lines has, stays as it is, for the reader of rows to judge.
[[nodiscard]] PlainRows rows_of_json_lines(std::string_view text);

}  // namespace pulsewright::reading
