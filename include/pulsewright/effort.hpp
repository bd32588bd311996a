/// Stage 6: RateSeries + Person -> Effort. How hard did the heart work, against what is known of the person: the time account of one session. What is
/// read beyond it (phases, load, recovery) stands in session.hpp.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "pulsewright/intensity.hpp"
#include "pulsewright/maximum.hpp"
#include "pulsewright/person.hpp"
#include "pulsewright/rate.hpp"
#include "pulsewright/resting.hpp"
#include "pulsewright/target.hpp"
#include "pulsewright/units.hpp"
#include "pulsewright/variability.hpp"

namespace pulsewright {

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
  /// Of a measured cell, where its ends lie between measured windows too, and the rate moves by at most 5 beats/min a second there; else the rate is taken
  /// to stand still from the centre to that end.
  std::optional<BeatsPerMinute> rate_at_start, rate_at_end;
};

/// Cells of width `rates.options.step` from 0 to the duration (the last may be shorter). A cell's rate is interpolated at its centre between
/// the two nearest window centres, at most three steps or 5 s apart; where only one of those is measured and its window covers the cell, that one; else nothing. A
/// cell past the end of the last full window is unmeasured. Throws Error{contract} when the step is below one microsecond.
[[nodiscard]] std::vector<EffortCell> effort_cells(const RateSeries& rates);

/// The part of a rate series from `start` (else its beginning) to `end` (else its end), times counted from `start`: for one person's stretch of a
/// shared sensor. Only windows that lie wholly inside are kept. Throws Error{usage} when nothing of the series lies between.
[[nodiscard]] RateSeries rates_between(const RateSeries& rates, std::optional<Seconds> start,
                                       std::optional<Seconds> end);

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
