/// What usually stands at a given delay after or before a beat: T and P waves, and the noise floor.
#pragma once

#include <vector>

#include "ecg_candidates.hpp"
#include "ecg_track.hpp"

namespace pulsewright::beats_stage {

/// Fills `over_usual_after` and `over_usual_before` of every candidate: its strength over an upper quantile of the narrow amplitude that the neighbouring
/// beats (candidates with `beat`) have at the same delay. A T wave is as strong as T waves are; an early beat stands out.
void measure_against_usual(std::vector<EcgCandidate>& candidates, const EcgTrack& track);

}  // namespace pulsewright::beats_stage
