/// How like a whole beat of this person the surroundings of a candidate look, from before the P wave to the end of the T wave.
#pragma once

#include <vector>

#include "ecg_candidates.hpp"
#include "ecg_track.hpp"

namespace pulsewright::beats_stage {

/// Of the candidates that could be beats by what is known of them so far (`log_odds` above `out_of_question`); of the others
/// what was measured before. Shapes are held against those of the candidates with `beat`, collected into a few templates.
[[nodiscard]] std::vector<Shaped> shapes_of(const EcgCandidates& candidates, const EcgTrack& track);

/// Log-odds below which no shape can make a beat of a candidate.
inline constexpr double out_of_question = -9.0;

}  // namespace pulsewright::beats_stage
