/// What is already decided about the start of a stretch.
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

namespace pulsewright::beats_stage {

/// Candidates before `until` are beats exactly when listed.
struct EcgDecided {
  std::size_t until = 0;           ///< track sample
  std::vector<std::size_t> beats;  ///< track samples, ascending
};

/// Stands for certainty among log-odds.
inline constexpr double certain = 50.0;

/// Of the candidates (or nodes of a path) before the decided end, those nearest to a decided beat and within `reach` track samples of it are beats, for certain, and the
/// others are not.
template <class Candidate>
void keep_decided(std::vector<Candidate>& candidates, const EcgDecided& decided, std::size_t reach) {
  auto beat = decided.beats.begin();
  for (std::size_t k = 0; k < candidates.size() && candidates[k].at < decided.until; ++k) {
    Candidate& c = candidates[k];
    while (beat != decided.beats.end() && *beat + reach < c.at) ++beat;
    const auto off = [&](const Candidate& other) { return std::max(other.at, *beat) - std::min(other.at, *beat); };
    c.beat = beat != decided.beats.end() && off(c) <= reach && (k == 0 || off(candidates[k - 1]) > off(c)) &&
             (k + 1 == candidates.size() || off(candidates[k + 1]) >= off(c));
    c.log_odds = c.beat ? certain : -certain;
  }
}

}  // namespace pulsewright::beats_stage
