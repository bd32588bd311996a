/// What a table of text holds when it is no recording: results of this program's own commands, told from their column names.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace pulsewright::reading {

enum class TableContent { samples, beats, intervals, rates };

/// Tells it from the names of the columns, units still part of them: beats when there is `time_s` and nothing but columns that a list of beats has
/// (sample, confidence, verdict, label, delay_s); intervals when there is `original_ms`; rates when `start_s` and `end_s` stand beside a column
/// `bpm` or `..._bpm`. Samples otherwise.
[[nodiscard]] TableContent content_of(const std::vector<std::string_view>& names);

/// What to do with such a table where something else was asked for, as the end of a sentence; for `samples` that it is a recording.
[[nodiscard]] const char* advice_for(TableContent content);

}  // namespace pulsewright::reading
