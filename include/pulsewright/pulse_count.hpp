/// Stage 7: a class that counts its pulse, against recordings.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "pulsewright/beats.hpp"
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
  std::optional<BeatsPerMinute>
      recorded;  ///< 60 (N - 1) / (last - first) over the accepted beats of that time; at least three
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

/// Scores one count against the beats of its recording. Throws Error{contract} when the length is not positive or the count is negative.
[[nodiscard]] ScoredCount score_count(const SheetCount& count, const BeatTrain& beats);
/// Puts them together. Warning `miscounted`: a count that is off by more than two beats.
[[nodiscard]] CountStudy count_study(std::vector<ScoredCount> counts);

}  // namespace pulsewright
