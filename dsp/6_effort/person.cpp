#include "pulsewright/person.hpp"

namespace pulsewright {

const char* to_string(Sex sex) {
  switch (sex) {
    case Sex::unstated: return "unstated";
    case Sex::female: return "female";
    case Sex::male: break;
  }
  return "male";
}

const char* to_string(Exercise exercise) {
  switch (exercise) {
    case Exercise::legs: return "legs";
    case Exercise::arms: return "arms";
    case Exercise::wheelchair: break;
  }
  return "wheelchair";
}

std::optional<Sex> sex_of(const std::string& word) {
  for (const Sex sex : {Sex::unstated, Sex::female, Sex::male})
    if (word == to_string(sex)) return sex;
  return std::nullopt;
}

std::optional<Exercise> exercise_of(const std::string& word) {
  for (const Exercise exercise : {Exercise::legs, Exercise::arms, Exercise::wheelchair})
    if (word == to_string(exercise)) return exercise;
  return std::nullopt;
}

}  // namespace pulsewright
