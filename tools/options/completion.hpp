/// Completion of the command line by shells.
#pragma once

#include <string>

#include "command_line.hpp"

namespace pulsewright::program {

/// The shells that there is a script for.
inline constexpr const char* completion_shells = "bash|zsh|fish";

/// A script that makes `shell` complete commands, options, and values that are chosen from words; other values are completed as names of files. Throws
/// Error{usage} for another shell.
[[nodiscard]] std::string completion_script(const CommandDescription& program, const std::string& shell);

}  // namespace pulsewright::program
