/// What is already committed about the start of a stretch.
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

namespace pulsewright::beats_stage {

/// Candidates before `until` are beats exactly when listed.
struct CommittedBeats {
  std::size_t until = 0;           ///< track sample
  std::vector<std::size_t> beats;  ///< track samples, ascending
};

/// Stands for certainty among log-odds.
inline constexpr double certain = 50.0;

/// Of the candidates (or nodes of a path) before the committed end, those nearest to a committed beat and within `reach` track samples of it are beats, for certain, and the
/// others are not.
template <class Candidate>
void keep_committed(std::vector<Candidate>& candidates, const CommittedBeats& committed, std::size_t reach) {
  auto beat = committed.beats.begin();
  for (std::size_t k = 0; k < candidates.size() && candidates[k].at < committed.until; ++k) {
    Candidate& c = candidates[k];
    while (beat != committed.beats.end() && *beat + reach < c.at) ++beat;
    const auto off = [&](const Candidate& other) { return std::max(other.at, *beat) - std::min(other.at, *beat); };
    c.beat = beat != committed.beats.end() && off(c) <= reach && (k == 0 || off(candidates[k - 1]) > off(c)) &&
             (k + 1 == candidates.size() || off(candidates[k + 1]) >= off(c));
    c.log_odds = c.beat ? certain : -certain;
  }
}

}  // namespace pulsewright::beats_stage
