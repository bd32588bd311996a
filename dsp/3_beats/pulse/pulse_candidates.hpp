/// Candidates for a systolic peak and what is measured of each.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "pulsewright/beats.hpp"

namespace pulsewright::beats_stage {

/// The foot of a pulse lies at most this long before its peak (common practice: the crest time is 0.1 to 0.3 s).
inline constexpr Seconds longest_rise{0.45};

struct PulseCandidate {
  std::size_t at = 0;            ///< sample of the peak
  float rise = 0;                ///< height over the lowest point since the candidate before
  float steepness = 0;           ///< largest slope on the way up, per second
  float rise_to_level = 0;       ///< natural logarithm of rise over that of accepted neighbours
  float steepness_to_level = 0;  ///< the same of steepness
  float likeness = 0;            ///< correlation of its shape with that of the beats around it
  float likeness_around = 0;     ///< the mean of this over those beats
  float irregularity = 1;  ///< mean absolute logarithm of the ratio of successive intervals around it, each at most 1
  double log_odds = 0;
  bool beat = false;
  bool doubtful = false;    ///< a beat of the best path in a stretch that is likely no heart
  std::size_t stretch = 0;  ///< counts the gaps before it
  BeatVerdict verdict = BeatVerdict::weak;
};

/// Local maxima of an upright pulse wave, no two closer than `spacing`, the higher one kept. Values must be finite.
[[nodiscard]] std::vector<PulseCandidate> propose_pulse_candidates(std::span<const float> wave, Hertz rate,
                                                                   Seconds spacing);

}  // namespace pulsewright::beats_stage
