/// The whole judgement of one stretch of ECG: candidates, features, best path, verdicts. Streaming and whole-file processing both call
/// this; they differ in the stretch they show it.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "detection_passes.hpp"
#include "ecg_candidates.hpp"
#include "ecg_track.hpp"
#include "pulsewright/beats.hpp"

namespace pulsewright::beats_stage {

/// Judges the candidates of a stretch seen in one or more signals (tracks of equal length, at least one).
[[nodiscard]] std::vector<JudgedComplex> judge_ecg(std::span<const EcgTrack> tracks, const Judging& judging);

}  // namespace pulsewright::beats_stage
