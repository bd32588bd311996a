/// The file that a live run keeps -> Recording.
#pragma once

#include <string>
#include <string_view>

#include "pulsewright/recording.hpp"

namespace pulsewright::reading {

[[nodiscard]] bool looks_like_live_recording(std::string_view text);

/// Reads one, on the grid that the live run put it on. A last line that was cut off is left out;
/// zero bytes at the end are what a power cut leaves of it. Throws Error{unreadable} naming the
/// line, also where too few samples are there to tell the rate.
[[nodiscard]] Recording read_live_recording(std::string_view text, const std::string& file);

}  // namespace pulsewright::reading
