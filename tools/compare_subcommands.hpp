/// The words that follow `compare`. Each adds its own subcommand.
#pragma once

#include "command.hpp"

namespace pulsewright::program {

void add_compare_beats(Program& program, Command& compare);
void add_compare_rate(Program& program, Command& compare);
void add_compare_plan(Program& program, Command& compare);
void add_compare_intervals(Program& program, Command& compare);
void add_compare_counts(Program& program, Command& compare);

}  // namespace pulsewright::program
