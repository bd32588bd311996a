/// Every command of the program, in the order of `--help`. A new command adds a declaration and a place in the list.
#pragma once

#include <array>

#include "command.hpp"

namespace pulsewright::program {

void add_target(Program& program);
void add_simulate(Program& program);

inline constexpr std::array all_commands{
    AddCommand{add_target},
    AddCommand{add_simulate},
};

}  // namespace pulsewright::program
