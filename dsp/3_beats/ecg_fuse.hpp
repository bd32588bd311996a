/// Several signals of one heart judged together.
#pragma once

#include <vector>

#include "ecg_candidates.hpp"

namespace pulsewright::beats_stage {

/// Merges the judged candidates of several signals into one list in time order: at each moment those of the clearest signal, their log-odds
/// raised or lowered by what another clear signal shows at the same moment. `beat` keeps what the own signal's path said; a best path over
/// the merged list is the caller's next step. At least one signal.
[[nodiscard]] std::vector<EcgCandidate> fuse_judged(const std::vector<std::vector<EcgCandidate>>& signals, Hertz rate);

}  // namespace pulsewright::beats_stage
