/// How every `--help` ends.
#pragma once

#include <string>

#include "command_line.hpp"

namespace pulsewright::program {

inline constexpr const char* exit_codes_help =
    "Exit codes: 0 done; 1 the answer has no value anywhere, or a file of a batch failed;\n"
    "            2 wrong usage; 3 an input that cannot be read, or an output that cannot be written.";

/// Ends a command's help with what is to be known of it, an example that runs as printed, and the exit codes.
inline void end_help(Command& command, const std::string& example, const std::string& known = {}) {
  command.footer((known.empty() ? "" : known + "\n") + "Example:\n  " + example + "\n\n" + exit_codes_help);
}

}  // namespace pulsewright::program
