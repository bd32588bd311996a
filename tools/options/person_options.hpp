/// Options that say who it was and what to aim for.
#pragma once

#include <optional>
#include <string>

#include "command_line.hpp"
#include "pulsewright/effort.hpp"
#include "pulsewright/json.hpp"

namespace pulsewright::program {

struct PersonFlags {
  std::string code;
  std::optional<double> age, resting, maximum, ceiling;
  std::string sex = "unstated";
  std::string exercise = "legs";
  std::string equation = "fox";
  double low_percent = 60;
  double high_percent = 85;
};

/// --age, --sex, --resting, --maximum, --ceiling, --code, --exercise, and those of the target.
void add_person_options(Command& command, PersonFlags& flags);
/// --equation, --low, --high alone, where a roster says who it was.
void add_target_options(Command& command, PersonFlags& flags);

[[nodiscard]] Person person_of(const PersonFlags& flags);
/// What to say about the flags themselves: a code that looks like a name.
[[nodiscard]] Warnings person_warnings(const PersonFlags& flags);
/// Throws Error{usage} when the band is empty.
[[nodiscard]] EffortOptions effort_options(const PersonFlags& flags);
/// The flags that differ from their defaults.
[[nodiscard]] Json settings(const PersonFlags& flags);

}  // namespace pulsewright::program
