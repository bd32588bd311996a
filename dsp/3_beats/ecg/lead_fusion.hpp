/// Several signals of one heart, judged together.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "committed_beats.hpp"
#include "ecg_candidates.hpp"
#include "ecg_track.hpp"
#include "pulsewright/beats.hpp"

namespace pulsewright::beats_stage {

/// The path goes over the events at which any signal shows a candidate. Once a first path is known, each signal is measured again against the beats that all of them found.
/// A candidate for each event, with the log-odds and the decision of all signals. Tracks of equal length, at least one.
[[nodiscard]] std::vector<EcgCandidate> fuse_leads(std::span<const EcgTrack> tracks,
                                                   const std::vector<std::size_t>& restarts, const EcgOptions& options,
                                                   const CommittedBeats& committed);

}  // namespace pulsewright::beats_stage
