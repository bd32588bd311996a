/// How like the person's own complexes a candidate looks.
#pragma once

#include <span>
#include <vector>

#include "ecg_candidates.hpp"
#include "ecg_fuse.hpp"
#include "ecg_track.hpp"

namespace pulsewright {

/// Collects the shapes of the candidates marked as beats into a few templates per signal and fills `likeness` of every candidate with its best
/// correlation, averaged over the signals by their weights.
void measure_likeness(std::vector<EcgCandidate>& candidates, std::span<const EcgTrack> tracks, const EcgFusion& fusion);

}  // namespace pulsewright
