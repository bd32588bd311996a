/// A lesson of a made-up class whose truth is known: courses of heart rates that everybody shares in time, each on the
/// own resting and maximum rate.
#pragma once

#include <cmath>
#include <cstdio>

#include "pulsewright/class_session.hpp"
#include "rate_series.hpp"

namespace pulsewright {

/// Demand of the lesson at a time, 0 to 1: sitting, warm-up, two bouts of unequal length with a pause, cool-down, sitting.
inline double lesson_demand(double s) {
  struct Part {
    double until, demand;
  };
  constexpr Part parts[] = {{120, 0.0}, {420, 0.35}, {720, 0.75}, {840, 0.30}, {1020, 0.90}, {1260, 0.28}, {1500, 0.0}};
  for (const Part& part : parts)
    if (s < part.until) return part.demand;
  return 0.0;
}
inline constexpr double lesson_length = 1500;

struct MadePupil {
  std::string code;
  double resting = 66, maximum = 205;
  double zeal = 1.0;         ///< how much of the demand is met
  double rise = 30, fall = 50;  ///< time constants, s
};

/// Rate at every second of the lesson.
inline std::vector<double> made_course(const MadePupil& pupil) {
  std::vector<double> rates;
  double level = 0;
  for (int s = 0; s < static_cast<int>(lesson_length); ++s) {
    const double aim = pupil.zeal * lesson_demand(s);
    level += (aim - level) / (aim > level ? pupil.rise : pupil.fall);
    rates.push_back(pupil.resting + level * (pupil.maximum - pupil.resting));
  }
  return rates;
}

/// Mean per cent of reserve of the truth over [from, to) of the lesson.
inline double true_effort(const MadePupil& pupil, double from, double to) {
  const std::vector<double> course = made_course(pupil);
  double sum = 0;
  int n = 0;
  for (int s = static_cast<int>(from); s < static_cast<int>(to) && s < static_cast<int>(course.size()); ++s, ++n)
    sum += 100.0 * (course[static_cast<std::size_t>(s)] - pupil.resting) / (pupil.maximum - pupil.resting);
  return sum / n;
}

/// The pupil's recording from second `from` to `to` of the lesson; where `lost(second of the lesson)` nothing is measured.
template <class Lost>
RateSeries made_rates(const MadePupil& pupil, double from, double to, Lost lost) {
  const std::vector<double> course = made_course(pupil);
  return series(to - from, 8.0, 2.0, [&](double t) {
    const double at = from + t;
    return lost(at) ? -1.0 : course[static_cast<std::size_t>(std::clamp(at, 0.0, lesson_length - 1))];
  });
}

/// Age 15 and the measured maximum, so that intervals come from what was not measured alone.
inline Person made_person(const MadePupil& pupil) {
  Person person;
  person.code = pupil.code;
  person.age_years = 15;
  person.resting = BeatsPerMinute{pupil.resting};
  person.measured_maximum = BeatsPerMinute{pupil.maximum};
  return person;
}

/// A member of the class. `begins` is the time of day of the lesson's second 0, where the recording has one.
inline ClassMember made_member(const MadePupil& pupil, const RateSeries& rates, std::optional<double> begins_s,
                               std::optional<Person> person = std::nullopt) {
  SheetEntry entry;
  static std::int64_t line = 1;
  entry.line = ++line;
  entry.code = pupil.code;
  entry.file = entry.file_name = pupil.code + ".csv";
  entry.file_begins_s = begins_s;
  return class_member(entry, rates, std::nullopt, person.value_or(made_person(pupil)));
}

/// Twenty-four pupils, all different, from hardly trying to more than asked.
inline std::vector<MadePupil> made_class() {
  std::vector<MadePupil> pupils;
  for (int k = 0; k < 24; ++k) {
    MadePupil pupil;
    char code[8];
    std::snprintf(code, sizeof code, "p%02d", k + 1);
    pupil.code = code;
    pupil.resting = 60 + (k * 7) % 27;
    pupil.maximum = 192 + (k * 5) % 17;
    pupil.zeal = 0.55 + 0.022 * ((k * 11) % 24);
    pupil.rise = 22 + (k * 3) % 14;
    pupil.fall = 40 + (k * 13) % 25;
    pupils.push_back(pupil);
  }
  return pupils;
}

}  // namespace pulsewright
