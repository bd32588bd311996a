/// Delimited text -> Recording.
#pragma once

#include <optional>
#include <string_view>

#include "line_blocks.hpp"
#include "pulsewright/recording.hpp"

namespace pulsewright::reading {

/// So much of a file is held to tell its format and layout; every header of EDF fits (4096 signals of 256 bytes).
inline constexpr std::size_t text_beginning = std::size_t{2} << 20;

/// Reads a text table from `file`, whose first bytes (`text_beginning`, or all there are) were read into `beginning`. `rate` serves where the
/// text has neither a time column nor a stated rate; a rate that the text contradicts is ignored
/// with the warning `rate_ignored`. Second 0 is the first row; when the time column starts elsewhere the warning `time_offset` says where.
/// `sink` gets the bytes of the text that were used.
/// Throws Error{unreadable}, or Error{usage} when no rate is known.
[[nodiscard]] Recording read_text_recording(std::string_view beginning, InputFile& file, std::optional<Hertz> rate,
                                            const ByteSink& sink);

}  // namespace pulsewright::reading
