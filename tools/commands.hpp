/// Every command of the program, in the order of `--help`. A new command adds a declaration and a place in the list.
#pragma once

#include <array>

#include "command.hpp"

namespace pulsewright::program {

void add_inspect(Program& program);
void add_beats(Program& program);
void add_intervals(Program& program);
void add_rate(Program& program);
void add_breathing(Program& program);
void add_variability(Program& program);
void add_effort(Program& program);
void add_analyze(Program& program);
void add_target(Program& program);
void add_class(Program& program);
void add_compare(Program& program);
void add_grade(Program& program);
void add_bench(Program& program);
void add_adjudicate(Program& program);
void add_batch(Program& program);
void add_simulate(Program& program);

inline constexpr std::array all_commands{
    AddCommand{add_inspect},   AddCommand{add_beats},       AddCommand{add_intervals}, AddCommand{add_rate},
    AddCommand{add_breathing}, AddCommand{add_variability}, AddCommand{add_effort},    AddCommand{add_analyze},
    AddCommand{add_target},    AddCommand{add_class},       AddCommand{add_compare},   AddCommand{add_grade},
    AddCommand{add_bench},     AddCommand{add_adjudicate},  AddCommand{add_batch},     AddCommand{add_simulate},
};

}  // namespace pulsewright::program
