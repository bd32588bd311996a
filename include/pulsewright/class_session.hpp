/// A class side by side: everyone on the same footing, and nobody ranked on a difference that may not be there.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "pulsewright/roster.hpp"
#include "pulsewright/session.hpp"

namespace pulsewright {

/// What a class is sorted by.
enum class ClassMeasure {
  code,
  effort,       ///< mean per cent of reserve
  target,       ///< time in the target
  moderate,     ///< time at moderate intensity or harder
  load,         ///< weighted minutes, which ask for no sex
  peak,         ///< per cent of reserve of the peak
  recovery,     ///< fall in the first minute
  performance,  ///< the sheet's outside measure
};

[[nodiscard]] const char* to_string(ClassMeasure measure);
[[nodiscard]] std::optional<ClassMeasure> class_measure_of(const std::string& word);

/// The places that a member may hold, from 1: behind everyone who is clearly ahead, before everyone who is clearly behind.
struct Standing {
  int best = 1;
  int worst = 1;
};

/// How performance and effort stand to each other, against the middle of the class.
enum class EffortForPlace {
  unclear,
  ahead_at_ease,    ///< performance in the better half, effort clearly below the middle
  behind_at_limit,  ///< performance in the other half, effort clearly above it
};

[[nodiscard]] const char* to_string(EffortForPlace what);

struct ClassMember {
  SheetEntry entry;
  std::optional<SessionEffort> session;  ///< nothing when the recording could not be read
  std::string failure;                   ///< why not
  std::optional<double> begins_s;        ///< time of day at which the member's second 0 lies
  RateSeries rates;
  std::optional<Standing> standing;  ///< by the measure asked for; nothing without a value
  EffortForPlace effort_for_place = EffortForPlace::unclear;
};

struct ClassOptions {
  ClassMeasure sort_by = ClassMeasure::effort;
  bool least_first = false;
};

struct ClassComparison {
  std::vector<ClassMember> members;  ///< sorted; those without a value last, in the order of the sheet
  ClassOptions options;
  PerformanceMeasure performance;
  std::optional<double> middle_effort_percent;  ///< median of the mean per cent of reserve
  std::optional<double>
      middle_performance;  ///< median of the outside measure; of fewer than three people there is none
  Warnings warnings;
  Provenance provenance;
};

/// The value that a member is sorted by, with its interval; nothing when there is none.
[[nodiscard]] std::optional<Ranged> value_of(const ClassMember& member, ClassMeasure measure);

/// Whether two values differ by more than both their intervals together explain: the distance exceeds the root of the sum of squares of the half widths that
/// face each other, each at least what one beat/min (per cent of reserve), one window (times) or one step in the last digit shown is worth.
[[nodiscard]] bool clearly_more(const Ranged& more, const Ranged& less, double least_half_width);

/// Sorts, gives the standings, and says whose effort and performance do not go together. Ties in value keep the order of the sheet. Sorting by `performance` gives places by it
/// alone, without intervals.
[[nodiscard]] ClassComparison compare_class(std::vector<ClassMember> members, const PerformanceMeasure& performance,
                                            const ClassOptions& options = {});

}  // namespace pulsewright
