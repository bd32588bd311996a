/// One lead of an ECG by itself: the passes of the detector over it.
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

/// What a judgement of a stretch is given beside the signals.
struct Judging {
  Form form = Form::whole_file;
  std::vector<std::size_t> restarts;  ///< track samples at which the signals resume after a gap
  CommittedBeats committed;           ///< nothing, in the whole-file form
  EcgOptions options;
};

/// What was detected in one lead.
struct LeadDetection {
  EcgCandidates candidates;
  std::optional<EcgTrack> stepless;  ///< what was looked at in the end, where the base line had steps
};

/// Passes over one lead, each knowing the path of the one before: the candidates by themselves; in the context of the
/// beats around; where noise is strong (whole-file form), with what the search in it finds, twice; and as shapes of
/// whole beats. All of them anew where steps of the base line had to be taken out. `beat` is what the path before the
/// last pass said, `log_odds` what the last pass says. Committed beats are known within `reach` track samples.
[[nodiscard]] LeadDetection detect_in_lead(const EcgTrack& track, const Judging& judging, std::size_t reach);

/// Everything measured anew against the candidates that are now believed to be beats, and weighed by shape.
[[nodiscard]] EcgCandidates measured_again(EcgCandidates candidates, const EcgTrack& track, Form form);

/// What the last paths over ECG candidates pay, set on the development records, bare and with electrode motion, muscle
/// noise and baseline wander added, and on the Noise Stress Test records.
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
