/// The beginning of a file that may turn out to be of any kind.
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>

namespace pulsewright::program {

/// Its first bytes; nothing of what cannot be read, of which whoever reads all of it will tell.
[[nodiscard]] std::string file_beginning(const std::filesystem::path& file, std::size_t most);

}  // namespace pulsewright::program
