/// How like the person's own complexes a candidate looks.
#pragma once

#include <vector>

#include "ecg_candidates.hpp"
#include "ecg_track.hpp"

namespace pulsewright::beats_stage {

/// Collects the shapes of the candidates marked as beats into a few templates and fills `likeness` of every candidate with its best correlation.
void measure_likeness(std::vector<EcgCandidate>& candidates, const EcgTrack& track);

}  // namespace pulsewright::beats_stage
