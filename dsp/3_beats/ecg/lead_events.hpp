/// The events at which at least one of several signals of one heart shows a candidate, and what every signal shows there.
#pragma once

#include <cstddef>
#include <vector>

#include "ecg_candidates.hpp"

namespace pulsewright::beats_stage {

/// An event is named by the first signal that has a candidate there.
struct LeadEvent {
  std::size_t at = 0;  ///< track sample
  std::size_t signal = 0;
  std::size_t candidate = 0;  ///< its place among those of the signal
};

/// What one signal shows at an event.
struct Sighting {
  static constexpr std::size_t nothing = static_cast<std::size_t>(-1);
  std::size_t candidate = nothing;
  double log_odds = 0;  ///< of the candidate, less the further off it lies; `nothing_seen` when there is none
};

/// So much a signal without a candidate says against a beat.
inline constexpr double nothing_seen = -6.0;

/// The candidates of the first signal, and those of each further one that are not near one that is already there; in time order.
[[nodiscard]] std::vector<LeadEvent> lead_events(const std::vector<std::vector<EcgCandidate>>& signals, Hertz rate);

/// For each event, what one signal shows there. The steep part of a complex may come later in one signal than in another: the usual lag between the beats (candidates
/// with `beat`) of this signal and those of the first one counts as no distance.
[[nodiscard]] std::vector<Sighting> sightings(const std::vector<LeadEvent>& events,
                                              const std::vector<std::vector<EcgCandidate>>& signals, std::size_t signal,
                                              Hertz rate);

}  // namespace pulsewright::beats_stage
