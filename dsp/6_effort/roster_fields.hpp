/// The rules that a person of a roster has to satisfy, whatever form the roster has.
#pragma once

#include <optional>
#include <string>

#include "pulsewright/person.hpp"

namespace pulsewright {

// What may stand in a roster: far beyond any person's, close enough to catch a slip of the pen (ours).
inline constexpr double youngest_years = 1.0, oldest_years = 120.0;
inline constexpr double lowest_resting_bpm = 25.0, highest_resting_bpm = 150.0;
inline constexpr double lowest_maximum_bpm = 60.0, highest_maximum_bpm = 250.0;

/// What is wrong with one field; empty when nothing is. `value` is the number as read, nothing when the field is no number.
[[nodiscard]] std::string fault_of_code(const std::string& code);
[[nodiscard]] std::string fault_of_age(const std::optional<double>& value);
[[nodiscard]] std::string fault_of_resting(const std::optional<double>& value);
[[nodiscard]] std::string fault_of_maximum(const std::optional<double>& value);
[[nodiscard]] std::string fault_of_ceiling(const std::optional<double>& value);

/// What is wrong with the fields taken together; empty when nothing is.
[[nodiscard]] std::string fault_of_person(const Person& person);

}  // namespace pulsewright
