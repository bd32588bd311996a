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

/// One peak of the narrow energy.
struct Proposed {
  std::size_t at = 0;       ///< track sample
  float strength = 0;       ///< narrow amplitude at its peak
  float breadth = 0;        ///< largest wide amplitude near by
  float to_background = 0;  ///< local background over strength
  std::size_t stretch = 0;  ///< counts the gaps before it
};

// What the passes measure of a candidate, each measure a value of its own. Ratios are natural
// logarithms of amplitudes.

/// Against the level of the beats around.
struct ToLevel {
  float strength = 0, breadth = 0;
};
/// The strongest candidate shortly before and shortly after, over strength.
struct Neighbours {
  float before = 0, after = 0;
};
/// Strength over what usually stands at this delay after a beat, and before the next.
struct OverUsual {
  float after = 0, before = 0;
};
/// What the beats believed so far say about a candidate.
struct InContext {
  ToLevel to_level;
  Neighbours neighbours;
  float likeness = 0;  ///< best correlation with the person's own complexes
  OverUsual over_usual;
  float noise_level = 0;  ///< `to_background` as usual among the beats around
};
/// Best correlations of its surroundings with the person's own whole beats.
struct Shaped {
  float near = 0;       ///< the nearest 200 ms to either side
  float whole = 0;      ///< from before the P wave to the end of the T wave
  float energy = 0;     ///< the same of the narrow amplitude
  float step_over = 0;  ///< change of level across it, over its height
};
/// With the signal whitened, where noise is strong.
struct InNoise {
  float share = 0;   ///< how much it is to be judged as one in strong noise, 0 to 1; the others are measured then
  float match = 0;   ///< how well it matches a whitened complex, over all around it
  float alone = 0;   ///< the same over the whitened complex itself: a correlation
  float size = -3;   ///< the same over what is usual
  float beside = 0;  ///< the best match of another place near by
};

/// A candidate and all that the passes so far say of it.
struct EcgCandidate : Proposed {
  InContext context;
  Shaped shape;
  InNoise noise;
  double log_odds = 0;  ///< of being a beat, from the features alone
  bool beat = false;    ///< believed so far
};
using EcgCandidates = std::vector<EcgCandidate>;

/// A candidate with its verdict.
struct JudgedComplex : EcgCandidate {
  std::size_t signal = 0;                      ///< the signal it was seen in
  std::array<double, fused_features> fused{};  ///< of several signals: what they show together
  bool doubtful = false;                       ///< a beat of the best path in a stretch that is likely no heart
  BeatVerdict verdict = BeatVerdict::weak;
};

/// Peaks of the narrow energy, no two closer than 120 ms, the higher one kept.
[[nodiscard]] EcgCandidates propose_ecg_candidates(const EcgTrack& track);

/// First guess at which candidates are beats, one each: strong against the surroundings of some seconds, and not too
/// close to a stronger one.
[[nodiscard]] std::vector<bool> guessed_beats(const EcgCandidates& candidates, Hertz rate);

/// In the rhythm of the candidates believed to be beats.
[[nodiscard]] std::vector<Neighbours> neighbours_of(const EcgCandidates& candidates, Hertz rate);

}  // namespace pulsewright::beats_stage
