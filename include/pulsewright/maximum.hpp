/// The maximum heart rate of a person: measured, or by a published equation with its spread.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "pulsewright/error.hpp"
#include "pulsewright/person.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright {

/// Where a maximum heart rate comes from.
enum class MaximumSource {
  measured,
  fox_1971,      ///< 220 - age; common practice
  tanaka_2001,   ///< 208 - 0.7 age
  gellish_2007,  ///< 207 - 0.7 age
  nes_2013,      ///< 211 - 0.64 age
  gulati_2010,   ///< 206 - 0.88 age, adult women
  mahon_2010,    ///< 201 at any age from 7 to 17
};

/// A word for files and options (`measured`, `fox`, `tanaka`, `gellish`, `nes`, `gulati`, `mahon`), and the formula with its source for people.
[[nodiscard]] const char* to_string(MaximumSource source);
[[nodiscard]] const char* describe(MaximumSource source);

/// Every formula, in the order to show them.
inline constexpr std::array all_equations{MaximumSource::fox_1971,     MaximumSource::tanaka_2001,
                                          MaximumSource::gellish_2007, MaximumSource::nes_2013,
                                          MaximumSource::gulati_2010,  MaximumSource::mahon_2010};
/// The formula of a word; nothing when it is none of theirs.
[[nodiscard]] std::optional<MaximumSource> equation_of(const std::string& word);

struct MaximumRate {
  BeatsPerMinute rate;
  /// How far a person's own maximum lies from the equation, one SD; nothing when it was measured. From 7 to 17 years what measured maxima missed
  /// `fox` (10 +- 8) and `tanaka` (8 +- 5) by, as root mean squares: 12.8 and 9.4; `mahon` 10 (Mahon et al. 2010, RQES 81:466). `nes` 10.8
  /// (its paper). Everywhere else 11, the middle of the 10 to 12 of common practice.
  std::optional<double> sd_bpm;
  MaximumSource source = MaximumSource::measured;
};

/// The measured maximum when the person has one, else the equation. Nothing when neither that nor the age is known.
/// Throws Error{usage} when the age is not above 0 and at most 120 years, the measured maximum is not between 60 and 250 beats/min, the equation for adult
/// women (`gulati_2010`) is asked for a male or for someone under 18, or the figure for children (`mahon_2010`) outside 7 to 17 years. `measured` as the
/// equation gives nothing without a measured maximum.
[[nodiscard]] std::optional<MaximumRate> maximum_rate(const Person& person,
                                                      MaximumSource equation = MaximumSource::fox_1971);

/// What has to be known of a maximum before it is used: that it is an estimate, where the age or the sex lies outside what the equation was found in, and
/// that exercise with the arms reaches less (`estimated_maximum`, `age_outside_formula`, `equation_for_women`, `leg_based_maximum`). Nothing for a measured one.
[[nodiscard]] Warnings maximum_warnings(const Person& person, const MaximumRate& maximum);

/// How many equally likely maxima stand for a spread.
inline constexpr int maximum_draws = 41;

/// Equally likely values of the person's own maximum, in rising order: the middles of `maximum_draws` slices of a normal distribution about the
/// equation. One value when it was measured. None lies below `floor`.
[[nodiscard]] std::vector<BeatsPerMinute> likely_maxima(const MaximumRate& maximum, BeatsPerMinute floor);

}  // namespace pulsewright
