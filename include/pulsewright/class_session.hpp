/// A class side by side: everyone on the same footing, and nobody ranked on a difference that may not be there.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "pulsewright/common_stretch.hpp"
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
  std::string date;                  ///< `yyyy-mm-dd`, where the recording states one
  RateSeries rates;
  std::string content;              ///< what tells whether two files are one: hash of its bytes, empty where unknown
  bool rate_was_stated = false;     ///< the file holds no times, and somebody said how many samples a second it has
  std::optional<Seconds> lesson_s;  ///< where the member's second 0 lies in the lesson; nothing where that is not known
  std::optional<StretchEffort> compared;  ///< over what the class is compared over
  NotPlaced not_placed = NotPlaced::placed;  ///< the first of `objections`
  std::vector<NotPlaced> objections;         ///< all that stands against placing the member
  std::optional<Standing> standing;  ///< by the measure asked for; nothing without a value
  EffortForPlace effort_for_place = EffortForPlace::unclear;
};

/// What does not fit between a roster, a sheet and its recordings.
enum class ClassFault {
  absent,              ///< in the roster and not in the sheet
  not_in_roster,       ///< in the sheet and not in the roster
  code_twice,          ///< a code on two lines
  recording_twice,     ///< one recording under two codes
  implausible_resting, ///< a stated resting rate that is none (`plausible_resting`)
  rate_hz_doubtful,    ///< a stated sampling rate that the length and the rates of the others contradict
  looks_swapped,       ///< a recording that does not fit its person's resting rate and would fit somebody else's
};

[[nodiscard]] const char* to_string(ClassFault fault);

struct ClassFinding {
  ClassFault fault = ClassFault::absent;
  std::string code;
  std::int64_t line = 0;            ///< of the sheet; 0 where there is none
  std::vector<std::string> others;  ///< codes it concerns as well, the likeliest first
  std::int64_t other_line = 0;      ///< of `code_twice`: the line above
  double value = 0;  ///< of `implausible_resting` the rate, of `rate_hz_doubtful` how many times too long the recording is
};

struct ClassOptions {
  ClassMeasure sort_by = ClassMeasure::effort;
  bool least_first = false;
};

struct ClassComparison {
  std::vector<ClassMember> members;  ///< sorted; those without a value last, in the order of the sheet
  ClassOptions options;
  CommonStretch common;  ///< what everybody is compared over
  PerformanceMeasure performance;
  std::optional<double> middle_effort_percent;  ///< median of the mean per cent of reserve
  std::optional<double>
      middle_performance;  ///< median of the outside measure; of fewer than three people there is none
  std::vector<ClassFinding> findings;  ///< of `check_class`, where it was asked
  Warnings warnings;
  Provenance provenance;
};

/// One person's part of a lesson, ready to be compared: the stretch of the file that the sheet gives them, studied.
/// The lowest minute does not stand in for a resting rate. Marks count from the start of the file, and the last one
/// before the stretch holds at its start. Throws what `study_session` throws, and Error{unreadable} from `stretch_of`.
[[nodiscard]] ClassMember class_member(const SheetEntry& entry, const RateSeries& file_rates,
                                       const std::optional<std::string>& clock_start, const Person& person,
                                       const std::vector<PhaseMark>& marks = {}, const SessionOptions& options = {});

/// The value that a member is placed by, with its interval; nothing when there is none, or when the member cannot be
/// placed. `effort`, `target`, `moderate` and `load` are taken over the common stretch.
[[nodiscard]] std::optional<Ranged> value_of(const ClassMember& member, ClassMeasure measure);

/// Whether two values differ by more than both their intervals together explain: the distance exceeds the root of the
/// sum of squares of the half widths that face each other, each at least what one beat/min (per cent of reserve), one
/// window (times) or one step in the last digit shown is worth.
[[nodiscard]] bool clearly_more(const Ranged& more, const Ranged& less, double least_half_width);

/// Lays the recordings over each other, finds the stretch that is common, says who cannot be judged in it, sorts, gives
/// the standings, and says whose effort and performance do not go together. Ties in value keep the order of the sheet.
/// Sorting by `performance` gives places by it alone, without intervals.
///
/// The common stretch. Where the sheet gives everybody a stretch of their own, that is it; where everybody has marks,
/// the work between them. Otherwise it is the longest stretch of the lesson in which at least three quarters of those
/// whose place in the lesson is known were being recorded, of two minutes or more. A place is known by the time of day;
/// without one it is found by laying the course of the rate over the others' (correlation of 0.7 or more over at least
/// two minutes and half of the recording, and nowhere else more than half a minute away within 0.1 of that). Where nobody
/// has a time of day and no course says anything, recordings as long as each other to within a tenth are taken to begin
/// together.
///
/// Nobody is placed without at least 80 % of the common stretch measured, and a minute; see `NotPlaced`.
[[nodiscard]] ClassComparison compare_class(std::vector<ClassMember> members, const PerformanceMeasure& performance,
                                            const ClassOptions& options = {});

/// In the order of roster and sheet.
[[nodiscard]] std::vector<ClassFinding> check_class(const Roster& roster, const SessionSheet& sheet,
                                                    const std::vector<ClassMember>& members);

}  // namespace pulsewright
