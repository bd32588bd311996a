/// What a file of a session holds: beats without a signal, or rates of any device.
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>

#include "pulsewright/rate.hpp"

namespace pulsewright {

/// The first bytes of a file that may turn out to be of any kind; nothing of what cannot be read, of which whoever reads all of it will tell.
[[nodiscard]] std::string file_beginning(const std::filesystem::path& file, std::size_t most);

/// Whether a file holds beats and no signal: an annotation file beside a record header, or a table whose header names `time_s` and, besides, only
/// columns that describe beats. A file that cannot be read is none.
[[nodiscard]] bool is_beat_list(const std::filesystem::path& file);

/// As `read_rates`. Times that count from long before, as from 1970, are counted from the first row instead, with a warning.
[[nodiscard]] RateSeries session_rates(const std::string& file, const std::string& column);

}  // namespace pulsewright
