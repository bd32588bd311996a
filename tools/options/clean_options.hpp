/// Options that say how flagged intervals are corrected.
#pragma once

#include <string>

#include "command_line.hpp"
#include "pulsewright/clean.hpp"
#include "pulsewright/json.hpp"

namespace pulsewright::program {

struct CleanFlags {
  std::string correction = "repair";
};

/// --correction.
void add_clean_options(Command& command, CleanFlags& flags);
[[nodiscard]] CleanOptions clean_options(const CleanFlags& flags);
/// The flags that differ from their defaults, under their names without dashes.
[[nodiscard]] Json settings(const CleanFlags& flags);

}  // namespace pulsewright::program
