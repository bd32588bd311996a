/// The manual page of the program.
#pragma once

#include <string>

#include "command_line.hpp"

namespace pulsewright::program {

/// A page of section 1 in the macros of `man` (groff_man(7)), with a section for each command. `version` stands at its foot.
[[nodiscard]] std::string manual_page(const CommandDescription& program, const std::string& version);

}  // namespace pulsewright::program
