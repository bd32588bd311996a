/// Candidates for a QRS complex and what is measured of each.
#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "ecg_track.hpp"
#include "pulsewright/beats.hpp"

namespace pulsewright::beats_stage {

/// What several signals show together, in the order of `fused_evidence`.
inline constexpr std::size_t fused_features = 4;

/// One peak of the narrow energy and its features. Ratios are natural logarithms of amplitudes.
struct EcgCandidate {
  std::size_t signal = 0;  ///< the signal it was seen in
  std::size_t at = 0;      ///< track sample
  float strength = 0;      ///< narrow amplitude at its peak
  float breadth = 0;       ///< largest wide amplitude near by
  float to_level = 0;      ///< strength over the level of accepted neighbours
  float breadth_to_level = 0;
  float likeness = 0;           ///< best correlation with the person's own complexes
  float to_background = 0;      ///< local background over strength
  float to_before = 0;          ///< strongest candidate shortly before, over strength
  float to_after = 0;           ///< strongest candidate shortly after, over strength
  float over_usual_after = 0;   ///< strength over what usually stands at this delay after a beat
  float over_usual_before = 0;  ///< the same before the next beat
  float near_shape = 0;         ///< best correlation with the person's own beats, the nearest 200 ms to either side
  float whole_shape = 0;        ///< the same from before the P wave to the end of the T wave
  float whole_energy = 0;       ///< the same of the narrow amplitude
  float step_over = 0;          ///< change of level across it, over its height
  float noise_level = 0;        ///< `to_background` as usual among the beats around
  float in_noise = 0;  ///< how much it is to be judged as one in strong noise, 0 to 1; the next four are measured then
  float match = 0;     ///< how well whitened it matches a whitened complex, over all around it
  float match_alone = 0;                       ///< the same over the whitened complex itself: a correlation
  float match_size = -3;                       ///< the same over what is usual, a logarithm
  float match_beside = 0;                      ///< the best match of another place near by
  std::array<double, fused_features> fused{};  ///< of several signals: what they show together
  double log_odds = 0;                         ///< of being a beat, from the features alone
  bool beat = false;
  bool doubtful = false;    ///< a beat of the best path in a stretch that is likely no heart
  std::size_t stretch = 0;  ///< counts the gaps before it
  BeatVerdict verdict = BeatVerdict::weak;
};

/// Peaks of the narrow energy, no two closer than 120 ms, the higher one kept; with strength, breadth and background filled in.
[[nodiscard]] std::vector<EcgCandidate> propose_ecg_candidates(const EcgTrack& track);

/// First guess at which candidates are beats: strong against the surroundings of some seconds, and not too close to a stronger one.
void guess_ecg_beats(std::vector<EcgCandidate>& candidates, Hertz rate);

/// Fills `to_before` and `to_after`, from the rhythm of the candidates marked as beats.
void measure_neighbours(std::vector<EcgCandidate>& candidates, Hertz rate);

}  // namespace pulsewright::beats_stage
