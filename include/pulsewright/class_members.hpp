/// The sessions of a class, one for each line of its sheet.
#pragma once

#include <functional>
#include <vector>

#include "pulsewright/batch.hpp"
#include "pulsewright/class_session.hpp"
#include "pulsewright/session.hpp"

namespace pulsewright {

/// Told of each line before it is worked on.
using MemberNotice = std::function<void(const SheetEntry&)>;

/// Studies every line of a sheet: a recording, a table of beats or a table of heart rates, told apart by content. A file that several lines share is read once. What cannot be read
/// becomes that member's failure; a code that the roster does not have is studied without a person. `asked` says how files are read and what
/// is asked of them (its input and person are those of each line), `session` what is asked of each session.
[[nodiscard]] std::vector<ClassMember> class_members(const SessionSheet& sheet, const Roster& roster,
                                                     const Request& asked, const SessionOptions& session,
                                                     const MemberNotice& notice = {});

}  // namespace pulsewright
