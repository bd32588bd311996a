/// Tells files of beats and of truth from recordings, where they stand in one folder.
#pragma once

#include <filesystem>

namespace pulsewright::program {

/// Whether a file holds beats and no signal: an annotation file beside a record header, or a table whose header names `time_s` and, besides, only
/// columns that describe beats. A file that cannot be read is none.
[[nodiscard]] bool is_beat_list(const std::filesystem::path& file);

/// Whether a file is the truth that `simulate` wrote beside a recording: `STEM_truth...` where `STEM` is there too.
[[nodiscard]] bool is_truth_file(const std::filesystem::path& file);

}  // namespace pulsewright::program
