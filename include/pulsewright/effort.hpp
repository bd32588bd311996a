/// Stage 6: RateSeries + Person -> Effort. How hard did the heart work, against what is known of the person.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "pulsewright/rate.hpp"
#include "pulsewright/units.hpp"
#include "pulsewright/variability.hpp"

namespace pulsewright {

enum class Sex { unstated, female, male };

/// What is known of one person. Codes, not names.
struct Person {
  std::string code;
  std::optional<double> age_years;
  Sex sex = Sex::unstated;
  std::optional<BeatsPerMinute> resting;  ///< measured or recorded earlier
  std::optional<BeatsPerMinute> measured_maximum;
  std::optional<BeatsPerMinute> own_ceiling;  ///< a limit set by a professional
};

/// Where a maximum heart rate comes from.
enum class MaximumSource {
  measured,
  fox_1971,      ///< 220 - age; common practice
  tanaka_2001,   ///< 208 - 0.7 age
  gellish_2007,  ///< 207 - 0.7 age
  nes_2013,      ///< 211 - 0.64 age
  gulati_2010,   ///< 206 - 0.88 age, adult women
};

/// A word for files and options (`measured`, `fox`, `tanaka`, `gellish`, `nes`, `gulati`), and the formula with its source for people.
[[nodiscard]] const char* to_string(MaximumSource source);
[[nodiscard]] const char* describe(MaximumSource source);

struct MaximumRate {
  BeatsPerMinute rate;
  std::optional<double>
      sd_bpm;  ///< spread of individuals about the formula, one SD; nothing when measured or when we know of none
  MaximumSource source = MaximumSource::measured;
};

/// The measured maximum when the person has one, else the equation. Nothing when neither that nor the age is known.
/// Throws Error{usage} when the age is not above 0 and at most 120 years, the measured maximum is not between 60 and 250 beats/min, or the equation for adult
/// women (`gulati_2010`) is asked for a male or for someone under 18. `measured` as the equation gives nothing without a measured maximum.
[[nodiscard]] std::optional<MaximumRate> maximum_rate(const Person& person,
                                                      MaximumSource equation = MaximumSource::fox_1971);

/// What has to be known of a maximum before it is used: that it is an estimate, and where the age or the sex lies outside what the equation was found in
/// (`estimated_maximum`, `age_outside_formula`, `equation_for_women`). Nothing for a measured one.
[[nodiscard]] Warnings maximum_warnings(const Person& person, const MaximumRate& maximum);

/// Where a resting rate comes from.
enum class RestingSource { given, lowest_minute };

[[nodiscard]] const char* to_string(RestingSource source);

struct RestingRate {
  BeatsPerMinute rate;
  RestingSource source = RestingSource::given;
  std::optional<Span> where;  ///< stretch of the recording it was read from
};

/// The lowest mean rate over any stretch of `length` (rounded up to whole effort cells) that is measured throughout; the earliest of equals. Nothing
/// when there is no such stretch. Inside a workout it overestimates the resting rate. Throws Error{contract} when `length` is not positive.
[[nodiscard]] std::optional<RestingRate> lowest_stable_rate(const RateSeries& rates, Seconds length = Seconds{60.0});

/// A band of heart rates to aim for.
struct TargetZone {
  BeatsPerMinute low;
  BeatsPerMinute high;
  double low_fraction = 0.60;
  double high_fraction = 0.85;
  bool from_reserve = true;  ///< false: fractions of the maximum, because the resting rate is unknown
  MaximumRate maximum;
  std::optional<RestingRate> resting;
  std::optional<BeatsPerMinute> own_ceiling;  ///< the professional's limit, when it lowered `high`
};

/// Target by the reserve method (Karvonen et al. 1957): rest + f (max - rest); without a resting rate, f x max.
/// Throws Error{usage} when fractions are not 0 <= low < high <= 1, or the resting rate is not below the maximum.
[[nodiscard]] TargetZone target_zone(const MaximumRate& maximum, const std::optional<RestingRate>& resting,
                                     double low_fraction = 0.60, double high_fraction = 0.85);

/// The target with its upper end lowered to a limit set by a professional. Nothing when the limit lies below the lower end: then no
/// target by formula applies.
[[nodiscard]] std::optional<TargetZone> with_ceiling(TargetZone target, BeatsPerMinute ceiling);

/// Public-health intensity categories (Garber et al. 2011, MSSE 43:1334).
enum class Intensity { very_light, light, moderate, vigorous, near_maximal };
inline constexpr int intensity_count = 5;

[[nodiscard]] const char* to_string(Intensity intensity);  ///< `very_light`, ...

/// Lower bounds of light, moderate, vigorous and near-maximal; a category reaches up to, not including, the next.
inline constexpr std::array<double, intensity_count - 1> reserve_bounds{0.30, 0.40, 0.60, 0.90};
inline constexpr std::array<double, intensity_count - 1> maximum_bounds{0.57, 0.64, 0.77, 0.96};

/// The category of a fraction of reserve: [0,.30) [.30,.40) [.40,.60) [.60,.90) [.90, up); below 0 is very light.
[[nodiscard]] Intensity intensity_of_reserve(double fraction);
/// The category of a fraction of the maximum: < .57, [.57,.64), [.64,.77), [.77,.96), >= .96.
[[nodiscard]] Intensity intensity_of_maximum(double fraction);

struct EffortOptions {
  MaximumSource equation = MaximumSource::fox_1971;
  double low_fraction = 0.60;
  double high_fraction = 0.85;
};

/// The time base of effort: cells of one rate step that do not overlap. Lengths are whole microseconds, so that sums are exact.
struct EffortCell {
  std::int64_t start_us = 0;
  std::int64_t length_us = 0;
  std::optional<BeatsPerMinute> rate;  ///< at the cell's centre, between the centres of its neighbouring windows
};

/// Cells of width `rates.options.step` from 0 to the duration (the last may be shorter). A cell's rate is interpolated at its centre between
/// the two nearest window centres; where only one of those is measured and its window covers the cell, that one; else nothing. A
/// cell past the end of the last full window is unmeasured. Throws Error{contract} when the step is below one microsecond.
[[nodiscard]] std::vector<EffortCell> effort_cells(const RateSeries& rates);

struct Effort {
  Person person;
  std::optional<MaximumRate> maximum;
  std::optional<RestingRate> resting;
  std::optional<TargetZone> target;
  std::int64_t duration_us = 0;
  std::int64_t unmeasured_us = 0;
  std::optional<std::array<std::int64_t, intensity_count>>
      category_us;                      ///< with `unmeasured_us` sums exactly to `duration_us`
  bool categories_from_reserve = true;  ///< false: by per cent of the maximum, because no resting rate is known
  /// Against the unrounded band; both ends belong to it.
  std::optional<std::int64_t> below_target_us, in_target_us, above_target_us;
  std::optional<std::int64_t> above_ceiling_us;  ///< above the person's own ceiling; only with one
  std::optional<BeatsPerMinute> mean_rate;
  std::optional<BeatsPerMinute> peak_rate;  ///< highest windowed rate
  std::optional<double> mean_reserve_percent;
  std::vector<Reason> reasons;  ///< for each absent value its JSON key; `category_s` speaks for all five categories
  Warnings warnings;
  Provenance provenance;
};

/// Effort of one session.
///
/// Resting rate: the person's, else the lowest minute of the session when it is plausible (30 to 100 beats/min and below the maximum), with a
/// warning that it overestimates. Without one, target and categories go by per cent of the maximum. Unknown age and maximum: rates are
/// still reported, categories and target are absent with a reason. An own ceiling lowers the target; below the target's lower end it removes it.
/// Throws what `maximum_rate`, `target_zone` and `effort_cells` throw, and Error{usage} for a resting rate or ceiling that is not positive.
[[nodiscard]] Effort effort(const RateSeries& rates, const Person& person, const EffortOptions& options = {});

}  // namespace pulsewright
