/// The words that follow `compare`. Each adds its own subcommand.
#pragma once

#include "command.hpp"

namespace pulsewright::program {

void add_compare_beats(Program& program, CLI::App& compare);
void add_compare_rate(Program& program, CLI::App& compare);
void add_compare_plan(Program& program, CLI::App& compare);
void add_compare_intervals(Program& program, CLI::App& compare);
void add_compare_counts(Program& program, CLI::App& compare);

}  // namespace pulsewright::program
