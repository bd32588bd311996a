/// How every `--help` ends.
#pragma once

#include <CLI/CLI.hpp>
#include <string>

namespace pulsewright::program {

inline constexpr const char* exit_codes_help =
    "Exit codes: 0 done; 1 the answer has no value anywhere, or a file of a batch failed;\n"
    "            2 wrong usage; 3 an input that cannot be read, or an output that cannot be written.";

/// Ends a command's help with an example that runs as printed, and the exit codes.
inline void end_help(CLI::App& command, const std::string& example) {
  command.footer("Example:\n  " + example + "\n\n" + exit_codes_help);
}

}  // namespace pulsewright::program
