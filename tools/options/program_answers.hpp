/// What the program tells of itself: its version, its manual page, completion for shells.
#pragma once

#include "command_line.hpp"

namespace pulsewright::program {

/// --version, --manual-page, --completion. `line` has to outlive what it is asked.
void add_answers(CommandLine& line);

}  // namespace pulsewright::program
