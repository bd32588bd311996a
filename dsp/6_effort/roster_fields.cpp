#include "roster_fields.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace pulsewright {

namespace {

std::string between(const std::optional<double>& value, double low, double high, const char* what) {
  if (value && *value >= low && *value <= high) return {};
  return fmt::format("{} from {:g} to {:g}, or empty", what, low, high);
}

bool is_code_letter(char c) {
  const auto byte = static_cast<unsigned char>(c);
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_' ||
         byte >= 0x80;
}

}  // namespace

std::string fault_of_code(const std::string& code) {
  if (code.empty()) return "a person has a code, such as wren or P07";
  if (std::all_of(code.begin(), code.end(), is_code_letter)) return {};
  return "a code is made of letters, digits, - and _ (and is no name)";
}

std::string fault_of_age(const std::optional<double>& value) {
  return between(value, youngest_years, oldest_years, "an age is a number of years");
}
std::string fault_of_resting(const std::optional<double>& value) {
  return between(value, lowest_resting_bpm, highest_resting_bpm, "a resting rate is a number of beats/min");
}
std::string fault_of_maximum(const std::optional<double>& value) {
  return between(value, lowest_maximum_bpm, highest_maximum_bpm, "a measured maximum is a number of beats/min");
}
std::string fault_of_ceiling(const std::optional<double>& value) {
  return between(value, lowest_resting_bpm, highest_maximum_bpm, "a ceiling is a number of beats/min");
}

std::string fault_of_person(const Person& person) {
  if (!person.resting) return {};
  const double resting = person.resting->value();
  if (person.measured_maximum && resting >= person.measured_maximum->value())
    return fmt::format("a resting rate of {:g} beats/min is not below the measured maximum of {:g}", resting,
                       person.measured_maximum->value());
  if (!person.measured_maximum && person.age_years && resting >= 220.0 - *person.age_years)
    return fmt::format("a resting rate of {:g} beats/min is not below the age maximum of {:g} (220 - age)", resting,
                       220.0 - *person.age_years);
  return {};
}

}  // namespace pulsewright
