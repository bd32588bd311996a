/// Stage 7: a class that counts its pulse, against recordings.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "pulsewright/rate.hpp"
#include "pulsewright/resting.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright {

[[nodiscard]] const char* to_string(CountStart start);

/// A row of a class sheet: one count by hand, over any length.
struct SheetCount {
  std::string code;  ///< whose
  std::string recording;
  Seconds start;
  Seconds length;
  int counted = 0;
  CountStart began = CountStart::any_moment;
};

struct ScoredCount {
  SheetCount count;
  BeatsPerMinute by_count;  ///< 60 counted / length
  /// Mean of the measured rate, from beats or from the spectrum, over that time; nothing unless at least 80 % of it is
  /// measured.
  std::optional<BeatsPerMinute> recorded = std::nullopt;
  std::optional<BeatsPerMinute> recorded_low = std::nullopt, recorded_high = std::nullopt;  ///< 95 %; nothing of a device that states none
  std::optional<double> difference_bpm;  ///< by count minus recorded
  std::string reason;                    ///< why there is none
};

/// Counts of one length that began alike: what rounding to whole beats alone makes, and what was found.
///
/// A beat is worth 60 / length. Begun on a beat, what is left of the last interval is lost: a bias of half a beat, and 1 / sqrt 3 of a beat RMS. Begun at a moment: no bias, and
/// 1 / sqrt 6 of a beat RMS, if the rate has any fraction alike.
struct CountGroup {
  Seconds length;
  CountStart began = CountStart::any_moment;
  std::size_t counts = 0;
  double beat_bpm = 0;
  double expected_bias_bpm = 0, expected_rms_bpm = 0;
  std::optional<double> found_bias_bpm, found_rms_bpm;
};

struct CountStudy {
  std::vector<ScoredCount> counts;
  std::vector<CountGroup> groups;  ///< by length, then by how they began
  Warnings warnings;
};

/// Scores one count against the rates of its recording: their mean over its time, in effort cells, and the mean of the
/// intervals of the windows centred in it, as if their errors were all alike. Throws Error{contract} when the length is
/// not positive or the count is negative.
[[nodiscard]] ScoredCount score_count(const SheetCount& count, const RateSeries& rates);
/// A count whose recording could not be read, with why.
[[nodiscard]] ScoredCount unscored_count(const SheetCount& count, const std::string& reason);
/// Puts them together. Warning `miscounted`: a count that is more than two beats outside the interval.
[[nodiscard]] CountStudy count_study(std::vector<ScoredCount> counts);

}  // namespace pulsewright
