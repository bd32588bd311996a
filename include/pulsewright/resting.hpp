/// The resting heart rate: from a recording, by a count of beats, and how it reads beside others'.
#pragma once

#include <optional>
#include <string>

#include "pulsewright/rate.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright {

/// Where a resting rate comes from.
enum class RestingSource { given, lowest_minute };

[[nodiscard]] const char* to_string(RestingSource source);

struct RestingRate {
  BeatsPerMinute rate;
  RestingSource source = RestingSource::given;
  std::optional<Span> where;  ///< stretch of the recording it was read from
};

/// The lowest mean rate over any stretch of `length` (rounded up to whole effort cells) that is measured throughout and stable: the means of its halves
/// differ by at most 5 beats/min, so that a rate on its way down or up is not taken for rest. The earliest of equals; nothing when there is no such stretch.
/// Inside a workout it overestimates the resting rate. Throws Error{contract} when `length` is not positive.
[[nodiscard]] std::optional<RestingRate> lowest_stable_rate(const RateSeries& rates, Seconds length = Seconds{60.0});

/// When a count of beats was begun.
enum class CountStart {
  on_a_beat,  ///< the watch was started on a beat, and that beat counts as zero
  any_moment,
};

/// A pulse counted by hand.
struct RestingCount {
  int beats = 0;
  Seconds length{15.0};  ///< 10, 15, 20, 30 or 60 s
  CountStart start = CountStart::any_moment;
};

/// A counted rate with the rounding error that lies in counting whole beats.
struct CountedResting {
  BeatsPerMinute rate;      ///< beats x 60 / seconds (common practice)
  BeatsPerMinute per_beat;  ///< what one beat is worth: 6, 4, 3, 2, 1
  /// Mean error of such counts: -half a beat's worth when started on a beat, 0 otherwise; and its root mean square: a beat's worth over
  /// sqrt 3, or over sqrt 6 (the error is uniform, or the difference of two uniform ones).
  double bias_bpm = 0;
  double rms_error_bpm = 0;
};

/// Throws Error{usage} when the length is none of 10, 15, 20, 30, 60 s, or the rate would not lie between 20 and 250 beats/min.
[[nodiscard]] CountedResting counted_resting(const RestingCount& count);

/// The resting rate as common practice reads it in adolescents and adults.
enum class RestingReading { highly_trained, trained, average, high };  // up to 50, 51-71, 72-84, 85 and over

/// Where a resting rate lies among people of an age.
enum class CentilePlace { below_10th, from_10th_to_50th, from_50th_to_90th, above_90th };

/// Centiles of the resting rate in a range of age [from, to), beats/min.
struct RestingCentiles {
  double from_years = 0, to_years = 0;
  BeatsPerMinute tenth, middle, ninetieth;
};

/// Both readings of a resting rate, to be shown side by side: the first alone would call three in ten 12- to 15-year-olds high.
struct RestingComparison {
  RestingReading common_practice = RestingReading::average;
  std::optional<RestingCentiles>
      centiles;  ///< 12 to 18 years (Fleming et al. 2011, Lancet 377:1011; from memory); nothing at other ages
  std::optional<CentilePlace> place;  ///< present with `centiles`
};

/// Reads a rate, rounded to the nearest beat, by both.
[[nodiscard]] RestingComparison compare_resting(BeatsPerMinute resting, std::optional<double> age_years);

/// The readings in kind words, with their sources: one sentence or two.
[[nodiscard]] std::string describe(const RestingComparison& comparison);

}  // namespace pulsewright
