/// Delimited text -> Recording.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "pulsewright/recording.hpp"

namespace pulsewright::reading {

/// Reads a text table. `rate` serves where the text has neither a time column nor a stated rate; a rate that the text contradicts is ignored
/// with the warning `rate_ignored`. Second 0 is the first row; when the time column starts elsewhere the warning `time_offset` says where.
/// `bytes_read` becomes the length of the text that was used.
/// Throws Error{unreadable}, or Error{usage} when no rate is known.
[[nodiscard]] Recording read_text_recording(std::string_view text, const std::string& file, std::optional<Hertz> rate,
                                            std::size_t& bytes_read);

}  // namespace pulsewright::reading
