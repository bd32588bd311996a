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
  early_beat,          ///< ends at a beat that came early, or at one labelled as not of sinus origin
  compensatory_pause,  ///< the interval after such a beat, when long or when the label says so
  misplaced,  ///< a detection at the wrong place: one interval long, its neighbour short by the same; also a lone
              ///< interval that fits neither its neighbours nor any other verdict
  gap,        ///< runs over a stretch declared unreadable, or longer than any heart pauses
};

[[nodiscard]] const char* to_string(IntervalVerdict verdict);

/// The time between two detections that follow each other. There is one for each pair of accepted beats, whatever was corrected:
///   - a missed beat: the row stands for `1 + missed_inside` intervals, each of `corrected_ms` = original / (1 + missed_inside);
///   - an extra beat: two rows (three when two extra beats fell into one interval). The first holds the merged interval, their sum, and
///     `merged_rows` = 2 (3); the others have no corrected value, because they are part of it;
///   - early, pause, misplaced: the same number of intervals, each with an interpolated value;
///   - a gap: left out.
/// `normal_series` gives the intervals that result.
struct Interval {
  Seconds start;
  Seconds end;
  double original_ms = 0;
  IntervalVerdict verdict = IntervalVerdict::normal;
  /// What stands in for it: the original when normal, a replacement when one could be found, nothing when left out.
  std::optional<double> corrected_ms;
  int missed_inside = 0;  ///< beats held to be missing inside; 0 unless the verdict is missed_beat
  int merged_rows = 1;    ///< rows whose time `corrected_ms` covers, this one and those that follow
};

/// How a flagged interval is replaced.
enum class Correction {
  repair,             ///< missed beats inserted, extra ones deleted, other faults interpolated
  insert_and_delete,  ///< the first two; early beats, pauses and misplaced ones are left out
  interpolate,        ///< every fault by the course of the normal neighbours; counts of beats are mended as in `repair`
  leave_out,          ///< not at all: flagged intervals have no corrected value
};

[[nodiscard]] const char* to_string(Correction correction);

struct CleanOptions {
  Correction correction = Correction::repair;
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

/// Judges the intervals between accepted beats.
///
/// Each interval is compared with the level before and after it (medians of five neighbours in ms, so that a rate that climbs at the start of
/// exercise is no fault) against a threshold in ms that follows the local spread of differences (quartile deviation over 61 neighbours, an
/// idea of Lipponen & Tarvainen 2019, J Med Eng Technol 43:173; the method is ours). Among all ways to explain a stretch by the verdicts, the
/// one of least cost is taken. Labels other than normal, paced and unclassifiable decide an interval by themselves. With fewer than
/// six usable intervals only the fixed limits of the options and the labels judge, and a warning says so.
///
/// Fewer than two beats: no intervals and a warning. Throws Error{contract} when accepted beats are not in strictly increasing time order, or
/// when the limits are not 0 < shortest < longest. It does not tell an atrial early beat from a late one of the sinus node within the threshold, and an
/// irregular rhythm throughout widens the threshold until little is flagged.
[[nodiscard]] Intervals clean(const BeatTrain& train, const CleanOptions& options = {});

/// One interval of the corrected series.
struct NormalInterval {
  Seconds start;
  Seconds end;
  double ms = 0;
  bool replaced = false;      ///< not measured; a merged interval was, as the sum of its parts
  bool touches_last = false;  ///< starts where the one before it in the series ends
};

/// The corrected series that measures are taken from: rows without a value left out, missed beats put in, merged rows as one.
[[nodiscard]] std::vector<NormalInterval> normal_series(const Intervals& intervals);

}  // namespace pulsewright
