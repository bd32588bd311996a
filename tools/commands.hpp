/// Every command of the program, in the order of `--help`. A new command adds a declaration and a place in the list.
#pragma once

#include <array>

#include "command.hpp"

namespace pulsewright::program {

inline constexpr std::array<AddCommand, 0> all_commands{};

}  // namespace pulsewright::program
