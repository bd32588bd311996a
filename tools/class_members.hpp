/// The sessions of a class, one for each line of its sheet.
#pragma once

#include <vector>

#include "options/session_options.hpp"
#include "pulsewright/class_session.hpp"
#include "stage_results.hpp"

namespace pulsewright::program {

/// Studies every line: a recording, a table of beats or a table of heart rates, told apart by content. A file that several lines share is read once. What cannot be read
/// becomes that member's failure; a code that the roster does not have is told in `warnings`, and its session studied without a person.
[[nodiscard]] std::vector<ClassMember> class_members(const SessionSheet& sheet, const Roster& roster,
                                                     const InputFlags& input, const StageFlags& stages,
                                                     const SessionFlags& session, Warnings& warnings);

}  // namespace pulsewright::program
