#include <fmt/format.h>

#include <cmath>

#include "pulsewright/maximum.hpp"

namespace pulsewright {

namespace {

/// An age formula misses an individual's maximum by 10 to 12 beats/min, one SD (common practice); the middle of that.
constexpr double usual_sd_bpm = 11.0;
/// Standard error of the estimate of 211 - 0.64 age (Nes et al. 2013, Scand J Med Sci Sports 23:697).
constexpr double nes_sd_bpm = 10.8;
/// Ages of people; the oldest on record reached 122.
constexpr double oldest_years = 120.0;
constexpr double adult_years = 18.0;
/// Measured maxima of 7- to 17-year-olds were 201 +- 10; 220 - age missed them by 10 +- 8, 208 - 0.7 age by 8 +- 5 (Mahon et al. 2010, RQES 81:466).
/// The root mean square of a miss of mean m and SD s is sqrt(m^2 + s^2), whatever the sign of m.
constexpr double youngest_studied_child = 7.0;
constexpr double child_maximum_bpm = 201.0;
constexpr double child_sd_bpm = 10.0;
const double fox_child_miss_bpm = std::sqrt(10.0 * 10.0 + 8.0 * 8.0);
const double tanaka_child_miss_bpm = std::sqrt(8.0 * 8.0 + 5.0 * 5.0);
/// Maxima a test can have measured; beyond them lies a slip of the pen (ours).
constexpr double least_maximum_bpm = 60.0;
constexpr double most_maximum_bpm = 250.0;

}  // namespace

const char* to_string(MaximumSource source) {
  switch (source) {
    case MaximumSource::measured: return "measured";
    case MaximumSource::fox_1971: return "fox";
    case MaximumSource::tanaka_2001: return "tanaka";
    case MaximumSource::gellish_2007: return "gellish";
    case MaximumSource::nes_2013: return "nes";
    case MaximumSource::gulati_2010: return "gulati";
    case MaximumSource::mahon_2010: break;
  }
  return "mahon";
}

std::optional<MaximumSource> equation_of(const std::string& word) {
  for (const MaximumSource source : all_equations)
    if (word == to_string(source)) return source;
  return std::nullopt;
}

const char* describe(MaximumSource source) {
  switch (source) {
    case MaximumSource::measured: return "measured";
    case MaximumSource::fox_1971: return "220 - age (common practice; Fox 1971)";
    case MaximumSource::tanaka_2001: return "208 - 0.7 age (Tanaka et al. 2001, JACC 37:153)";
    case MaximumSource::gellish_2007: return "207 - 0.7 age (Gellish et al. 2007, MSSE 39:822)";
    case MaximumSource::nes_2013: return "211 - 0.64 age (Nes et al. 2013, Scand J Med Sci Sports 23:697)";
    case MaximumSource::gulati_2010: return "206 - 0.88 age, adult women (Gulati et al. 2010, Circulation 122:130)";
    case MaximumSource::mahon_2010: break;
  }
  return "201, measured in 7- to 17-year-olds (Mahon et al. 2010, RQES 81:466)";
}

std::optional<MaximumRate> maximum_rate(const Person& person, MaximumSource equation) {
  if (person.age_years && !(*person.age_years > 0.0 && *person.age_years <= oldest_years))
    throw Error{ErrorCode::usage, fmt::format("age {} years{}; it must be above 0 and at most {}", *person.age_years,
                                              person.code.empty() ? "" : " of " + person.code, oldest_years)};
  if (person.measured_maximum) {
    const double measured = person.measured_maximum->value();
    if (!(measured >= least_maximum_bpm && measured <= most_maximum_bpm))
      throw Error{ErrorCode::usage,
                  fmt::format("measured maximum of {} beats/min{}; it must be {} to {}", measured,
                              person.code.empty() ? "" : " of " + person.code, least_maximum_bpm, most_maximum_bpm)};
    return MaximumRate{*person.measured_maximum, std::nullopt, MaximumSource::measured};
  }
  if (!person.age_years) return std::nullopt;
  const double age = *person.age_years;
  const bool child = youngest_studied_child <= age && age < adult_years;
  switch (equation) {
    case MaximumSource::measured: return std::nullopt;
    case MaximumSource::fox_1971:
      return MaximumRate{BeatsPerMinute{220.0 - age}, child ? fox_child_miss_bpm : usual_sd_bpm, equation};
    case MaximumSource::tanaka_2001:
      return MaximumRate{BeatsPerMinute{208.0 - 0.7 * age}, child ? tanaka_child_miss_bpm : usual_sd_bpm, equation};
    case MaximumSource::gellish_2007: return MaximumRate{BeatsPerMinute{207.0 - 0.7 * age}, usual_sd_bpm, equation};
    case MaximumSource::nes_2013: return MaximumRate{BeatsPerMinute{211.0 - 0.64 * age}, nes_sd_bpm, equation};
    case MaximumSource::gulati_2010: break;
    case MaximumSource::mahon_2010:
      if (!child)
        throw Error{
            ErrorCode::usage,
            fmt::format(
                "the maximum of 201 was measured in 7- to 17-year-olds (Mahon et al. 2010); it is not for age {}",
                age)};
      return MaximumRate{BeatsPerMinute{child_maximum_bpm}, child_sd_bpm, equation};
  }
  if (person.sex == Sex::male || age < adult_years)
    throw Error{
        ErrorCode::usage,
        fmt::format("the equation 206 - 0.88 age was found in adult women (Gulati et al. 2010); it is not for {}",
                    person.sex == Sex::male ? std::string{"a man"} : fmt::format("age {}", age))};
  return MaximumRate{BeatsPerMinute{206.0 - 0.88 * age}, usual_sd_bpm, equation};
}

}  // namespace pulsewright
