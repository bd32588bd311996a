/// stdout is data, stderr is talk.
#pragma once

#include <string>
#include <string_view>

#include "pulsewright/error.hpp"

namespace pulsewright::program {

/// Thrown by `print` when the reader at the other end of a pipe has gone. Not an error.
struct ClosedPipe {};

/// Writes all bytes to standard output. Throws ClosedPipe, or Error{unwritable} when they could not all be written.
void print(std::string_view bytes);

/// A line of talk on standard error: `pulsewright: error: ...`, `pulsewright: warning: ...`, `pulsewright: ...`.
void talk_error(std::string_view message);
void talk_note(std::string_view message);
/// Every warning once, in order, with its code.
void talk_warnings(const Warnings& warnings);

/// Whether drawings in characters may stand beside text: standard output is a terminal, and the environment (LC_ALL, LC_CTYPE or LANG, the first that is
/// set) says that it shows UTF-8.
[[nodiscard]] bool drawings_wanted();

/// Whether progress may be shown: standard error is a terminal.
[[nodiscard]] bool progress_wanted();
/// Replaces the line of progress on the terminal; an empty line wipes it.
void talk_progress(std::string_view line);

}  // namespace pulsewright::program
