/// Tells files of truth from recordings, where they stand in one folder.
#pragma once

#include <filesystem>

namespace pulsewright::program {

/// Whether a file is the truth that `simulate` wrote beside a recording: `STEM_truth...` where `STEM` is there too.
[[nodiscard]] bool is_truth_file(const std::filesystem::path& file);

}  // namespace pulsewright::program
