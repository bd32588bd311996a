/// The whole judgement of one stretch of pulse wave. Streaming and whole-file processing both call this.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "pulse_candidates.hpp"
#include "pulsewright/beats.hpp"

namespace pulsewright::beats_stage {

/// What is already decided about the start of a stretch: candidates before `until` are beats exactly when listed.
struct PulseDecided {
  std::size_t until = 0;
  std::vector<std::size_t> beats;  ///< samples, ascending
};

/// Judges the candidates of an upright wave. `restarts` are the samples at which it resumes after a gap.
[[nodiscard]] std::vector<PulseCandidate> judge_pulse(std::span<const float> wave, Hertz rate,
                                                      const std::vector<std::size_t>& restarts,
                                                      const PulseOptions& options, const PulseDecided& decided = {});

}  // namespace pulsewright::beats_stage
