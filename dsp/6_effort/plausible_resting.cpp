#include <fmt/format.h>

#include "pulsewright/resting.hpp"

namespace pulsewright {

namespace {

constexpr BeatsPerMinute lowest_plausible{30.0};
constexpr BeatsPerMinute highest_plausible{110.0};
constexpr BeatsPerMinute highest_plausible_of_children{140.0};
constexpr double child_below_years = 8.0;

BeatsPerMinute highest_at(std::optional<double> age_years) {
  return age_years && *age_years < child_below_years ? highest_plausible_of_children : highest_plausible;
}

}  // namespace

bool plausible_resting(BeatsPerMinute resting, std::optional<double> age_years) {
  return lowest_plausible <= resting && resting <= highest_at(age_years);
}

Warnings resting_warnings(const Person& person) {
  if (!person.resting || plausible_resting(*person.resting, person.age_years)) return {};
  return {{"implausible_resting",
           fmt::format("{}a resting rate of {:g} beats/min is set aside: at rest it lies between {:g} and {:g}{}. "
                       "Until it is measured again, sitting quietly for five minutes, the target goes by share of the "
                       "maximum.",
                       person.code.empty() ? "" : person.code + ": ", person.resting->value(), lowest_plausible.value(),
                       highest_at(person.age_years).value(),
                       person.age_years ? fmt::format(" at {:g} years", *person.age_years) : "")}};
}

}  // namespace pulsewright
