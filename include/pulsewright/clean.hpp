/// Stage 4: BeatTrain -> Intervals. Each original interval stays beside its verdict and its replacement.
#pragma once

#include <optional>
#include <vector>

#include "pulsewright/beats.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright {

enum class IntervalVerdict {
  normal,
  missed_beat,         ///< one or more beats were not detected inside it
  extra_beat,          ///< ends or starts at a detection that is no beat
  early_beat,          ///< ends at a beat that came early
  compensatory_pause,  ///< the pause after an early beat
  misplaced,           ///< a detection at the wrong place: one interval long, its neighbour short by the same
  gap,                 ///< runs over a stretch declared unreadable, or longer than any heart pauses
};

[[nodiscard]] const char* to_string(IntervalVerdict verdict);

/// The time between two detections that follow each other.
struct Interval {
  Seconds start;
  Seconds end;
  double original_ms = 0;
  IntervalVerdict verdict = IntervalVerdict::normal;
  /// What stands in for it: the original when normal, a replacement when one could be found, nothing when left out.
  std::optional<double> corrected_ms;
};

/// How a flagged interval is replaced.
enum class Correction {
  interpolate,  ///< by the course of the normal neighbours
  leave_out,    ///< not at all: flagged intervals have no corrected value
};

struct CleanOptions {
  Correction correction = Correction::interpolate;
  /// Intervals outside are never normal: 0.24 s is 250 beats/min, 3 s is 20 beats/min.
  Seconds shortest{0.24};
  Seconds longest{3.0};
};

struct Intervals {
  std::vector<Interval> intervals;
  Seconds duration;  ///< of the recording
  CleanOptions options;
  Warnings warnings;
  Provenance provenance;

  /// Share of intervals whose verdict is not normal, 0 to 100; nothing when there are none.
  [[nodiscard]] std::optional<double> flagged_percent() const;
};

/// Judges the intervals between accepted beats. Fewer than two beats: no intervals and a warning. Beats must be in strictly
/// increasing time order (Error{contract}).
[[nodiscard]] Intervals clean(const BeatTrain& beats, const CleanOptions& options = {});

}  // namespace pulsewright
