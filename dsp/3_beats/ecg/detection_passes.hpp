/// One signal of an ECG, looked at by itself: candidates, their features, their log-odds.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "3_beats/viterbi_path.hpp"
#include "committed_beats.hpp"
#include "ecg_candidates.hpp"
#include "ecg_track.hpp"
#include "pulsewright/beats.hpp"

namespace pulsewright::beats_stage {

/// What was seen of one signal.
struct LeadDetection {
  std::vector<EcgCandidate> candidates;
  std::optional<EcgTrack> stepless;  ///< what was looked at in the end, where the base line had steps
};

/// Three looks, each knowing the path of the one before: the candidates by themselves, in the context of the beats around, and as shapes of whole beats, the last one twice and with what the search in noise
/// finds, where there is strong noise and nothing is committed yet; and all anew where steps of the base line had to be taken out. `beat` is what the path before the last look said, `log_odds` what the last look says. Decided beats are known within `reach` track samples.
[[nodiscard]] LeadDetection detect_in_lead(const EcgTrack& track, const std::vector<std::size_t>& restarts,
                                           const EcgOptions& options, const CommittedBeats& committed,
                                           std::size_t reach);

/// Measures everything anew against the candidates that are now marked as beats.
void measure_again(std::vector<EcgCandidate>& candidates, const EcgTrack& track, const CommittedBeats& committed);

/// What the last paths over ECG candidates pay, set on the development records, bare and with electrode motion, muscle noise and baseline wander added, and on the Noise Stress Test records.
inline constexpr PathCosts last_costs{.crowded = Seconds{0.30},
                                      .crowded_per_s = 5.6,
                                      .early = 4.275,
                                      .early_freedom = 0.3,
                                      .late = 7.5,
                                      .late_freedom = 0.075,
                                      .most_late = 2.2,
                                      .irregular_freedom = 1.7,
                                      .evidence = 0.69,
                                      .for_a_beat = 0.65};

}  // namespace pulsewright::beats_stage
