#include "lead_fusion.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "detection_passes.hpp"
#include "lead_events.hpp"
#include "lead_evidence.hpp"

namespace pulsewright::beats_stage {
namespace {

// A committed beat is this near in another signal.
constexpr Seconds same_beat{0.080};
// Candidates this near to each other may be parts of one wide complex.
constexpr Seconds one_complex{0.150};
// Before it is known how far each signal can be trusted, none says more than this.
constexpr double most_at_first = 6.0;
// Several signals together are surer of each beat than one. One that is off speaks against every beat of the others, and it is the rhythm that outweighs it: a pause costs what it costs.
constexpr PathCosts joint_costs = [] {
  PathCosts costs = last_costs;
  costs.evidence = 1.0;
  costs.for_a_beat = 0.15;
  costs.most_late = PathCosts{}.most_late;
  return costs;
}();

// A wide complex may have two candidates in a signal while the other signal speaks for one of them only because it lies nearer: the beat is where its own signal is surer.
void move_to_own_best(const std::vector<LeadEvent>& events, const std::vector<std::vector<EcgCandidate>>& signals,
                      std::vector<PathNode>& nodes, std::size_t reach) {
  const auto own = [&](std::size_t i) { return signals[events[i].signal][events[i].candidate].log_odds; };
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    if (!nodes[i].beat) continue;
    std::size_t best = i;
    const auto try_one = [&](std::size_t j) {
      if (!nodes[j].beat && own(j) > own(best)) best = j;
    };
    for (std::size_t j = i; j-- > 0 && nodes[i].at - nodes[j].at <= reach;) try_one(j);
    for (std::size_t j = i + 1; j < nodes.size() && nodes[j].at - nodes[i].at <= reach; ++j) try_one(j);
    if (best == i) continue;
    std::swap(nodes[i].beat, nodes[best].beat);
    std::swap(nodes[i].log_odds, nodes[best].log_odds);
    i = std::max(i, best);
  }
}

}  // namespace

std::vector<EcgCandidate> fuse_leads(std::span<const EcgTrack> tracks, const std::vector<std::size_t>& restarts,
                                     const EcgOptions& options, const CommittedBeats& committed) {
  const Hertz rate = tracks[0].rate;
  const auto reach = track_samples(same_beat, rate);
  std::vector<std::vector<EcgCandidate>> signals;
  std::vector<std::optional<EcgTrack>> stepless;
  for (const EcgTrack& track : tracks) {
    LeadDetection look = detect_in_lead(track, restarts, options, committed, reach);
    signals.push_back(std::move(look.candidates));
    stepless.push_back(std::move(look.stepless));
  }
  const std::vector<LeadEvent> events = lead_events(signals, rate);
  const std::size_t size = events.size();
  std::vector<std::vector<Sighting>> seen(signals.size());
  const auto see = [&] {
    for (std::size_t k = 0; k < signals.size(); ++k) seen[k] = sightings(events, signals, k, rate);
  };
  see();

  std::vector<PathNode> nodes(size);
  std::vector<bool> beat(size);
  std::vector<std::array<double, fused_features>> evidence;
  for (std::size_t i = 0; i < size; ++i) {
    nodes[i].at = events[i].at;
    for (const std::vector<Sighting>& signal : seen)
      nodes[i].log_odds += std::clamp(signal[i].log_odds, -most_at_first, most_at_first);
    beat[i] = nodes[i].beat = nodes[i].log_odds > 0;
  }
  number_stretches(nodes, restarts);
  for (int look = 0; look < 2; ++look) {
    for (int pass = 0; pass < 2; ++pass) {
      evidence = fused_evidence(events, seen, beat, rate);
      for (std::size_t i = 0; i < size; ++i) nodes[i].log_odds = fused_log_odds(evidence[i]);
      keep_committed(nodes, committed, reach);
      choose_viterbi_path(nodes, rate, options.refractory, joint_costs);
      for (std::size_t i = 0; i < size; ++i) beat[i] = nodes[i].beat;
    }
    if (look > 0) break;
    for (std::size_t k = 0; k < signals.size(); ++k) {
      for (EcgCandidate& c : signals[k]) c.beat = false;
      for (std::size_t i = 0; i < size; ++i) {
        if (beat[i] && seen[k][i].candidate != Sighting::nothing) signals[k][seen[k][i].candidate].beat = true;
      }
      measure_again(signals[k], stepless[k] ? *stepless[k] : tracks[k], committed);
    }
    see();
  }
  move_to_own_best(events, signals, nodes, static_cast<std::size_t>(samples_in(one_complex, rate)));

  std::vector<EcgCandidate> candidates;
  candidates.reserve(size);
  for (std::size_t i = 0; i < size; ++i) {
    EcgCandidate& c = candidates.emplace_back(signals[events[i].signal][events[i].candidate]);
    c.signal = events[i].signal;
    c.log_odds = nodes[i].log_odds;
    c.beat = nodes[i].beat;
    c.stretch = nodes[i].stretch;
    c.fused = evidence[i];
  }
  return candidates;
}

}  // namespace pulsewright::beats_stage
