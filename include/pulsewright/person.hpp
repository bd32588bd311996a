/// What is known of one person. Codes, not names.
#pragma once

#include <optional>
#include <string>

#include "pulsewright/units.hpp"

namespace pulsewright {

enum class Sex { unstated, female, male };

/// What the person exercises with. Formulas of the maximum were found on treadmills and bicycles, that is with legs.
enum class Exercise { legs, arms, wheelchair };

/// Words for files and options: `unstated`, `female`, `male`; `legs`, `arms`, `wheelchair`.
[[nodiscard]] const char* to_string(Sex sex);
[[nodiscard]] const char* to_string(Exercise exercise);
[[nodiscard]] std::optional<Sex> sex_of(const std::string& word);
[[nodiscard]] std::optional<Exercise> exercise_of(const std::string& word);

struct Person {
  std::string code;
  std::optional<double> age_years;
  Sex sex = Sex::unstated;
  std::optional<BeatsPerMinute> resting;  ///< measured or recorded earlier
  std::optional<BeatsPerMinute> measured_maximum;
  std::optional<BeatsPerMinute> own_ceiling;  ///< a limit set by a professional
  Exercise exercise = Exercise::legs;
};

}  // namespace pulsewright
