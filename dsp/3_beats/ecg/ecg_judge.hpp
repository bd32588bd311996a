/// The whole judgement of one stretch of ECG: candidates, features, best path, verdicts. Streaming and whole-file processing both call
/// this; they differ in the stretch they show it.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "committed_beats.hpp"
#include "ecg_candidates.hpp"
#include "ecg_track.hpp"
#include "pulsewright/beats.hpp"

namespace pulsewright::beats_stage {

/// Judges the candidates of a stretch seen in one or more signals (tracks of equal length, at least one). `restarts` are the track samples at
/// which the signals resume after a gap.
[[nodiscard]] std::vector<EcgCandidate> judge_ecg(std::span<const EcgTrack> tracks,
                                                  const std::vector<std::size_t>& restarts, const EcgOptions& options,
                                                  const CommittedBeats& committed = {});

}  // namespace pulsewright::beats_stage
