/// Options that say how a session is looked at beyond its time account.
#pragma once

#include <optional>
#include <string>

#include "command_line.hpp"
#include "pulsewright/json.hpp"
#include "pulsewright/session.hpp"

namespace pulsewright::program {

struct SessionFlags {
  std::string scheme;
  double peak_window = 30;
  std::string marks, marker, activity;
  std::optional<double> exertion;
};

/// --scheme, --peak.
void add_study_options(Command& command, SessionFlags& flags);
/// --marks, --marker, --activity, --exertion: of one session.
void add_session_options(Command& command, SessionFlags& flags);

/// What the flags ask for, but for --marker, which needs the recording. Throws what reading the files throws.
[[nodiscard]] SessionOptions session_options(const SessionFlags& flags, const EffortOptions& effort);
/// The flags that differ from their defaults, files without their folders.
[[nodiscard]] Json settings(const SessionFlags& flags);

}  // namespace pulsewright::program
