/// Whether a file is a recording or a text of something else, told from its first bytes.
#pragma once

#include <filesystem>

namespace pulsewright::program {

/// True when the file begins as EDF or as a header of an open record does, or when the first lines hold more rows of numbers (and times) than
/// other lines. Says nothing about whether it can be read to its end. False for a file that cannot be opened.
[[nodiscard]] bool holds_a_recording(const std::filesystem::path& file);

}  // namespace pulsewright::program
