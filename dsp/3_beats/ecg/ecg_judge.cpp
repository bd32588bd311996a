#include "ecg_judge.hpp"

#include <algorithm>
#include <cmath>

#include "3_beats/doubtful_stretches.hpp"
#include "3_beats/viterbi_path.hpp"
#include "detection_passes.hpp"
#include "lead_fusion.hpp"

namespace pulsewright::beats_stage {
namespace {

// T waves follow their beat within this.
constexpr Seconds repolarisation_time{0.45};

// A committed beat is this near to where it was, when steps near by have been taken out meanwhile.
constexpr Seconds same_beat{0.030};

// The search in noise proposes further moments of complexes that have a candidate already. Those nearer to a beat than candidates otherwise are to each other are the same complex.
constexpr Seconds same_complex{0.120};

void drop_other_moments(std::vector<EcgCandidate>& candidates, Hertz rate) {
  std::vector<std::size_t> beats;
  for (const EcgCandidate& c : candidates)
    if (c.beat) beats.push_back(c.at);
  const std::size_t same = track_samples(same_complex, rate);
  std::erase_if(candidates, [&](const EcgCandidate& c) {
    if (c.beat || c.in_noise <= 0) return false;
    const auto after = std::lower_bound(beats.begin(), beats.end(), c.at);
    return (after != beats.end() && *after - c.at < same) || (after != beats.begin() && c.at - *(after - 1) < same);
  });
}

void give_verdicts(std::vector<EcgCandidate>& candidates, Hertz rate, const EcgOptions& options) {
  const EcgCandidate* before = nullptr;
  for (std::size_t k = 0; k < candidates.size(); ++k) {
    EcgCandidate& c = candidates[k];
    if (c.beat) {
      c.verdict = c.doubtful ? BeatVerdict::unreadable : BeatVerdict::accepted;
      before = &c;
      continue;
    }
    const EcgCandidate* after = nullptr;
    for (std::size_t j = k + 1; j < candidates.size() && after == nullptr; ++j) {
      if (candidates[j].beat) after = &candidates[j];
    }
    const auto closer = [&](const EcgCandidate* beat, Seconds reach) {
      return beat != nullptr &&
             std::abs(static_cast<double>(c.at) - static_cast<double>(beat->at)) < samples_in(reach, rate);
    };
    if (closer(before, options.refractory) || closer(after, options.refractory)) {
      c.verdict = BeatVerdict::too_soon;
    } else if (closer(before, repolarisation_time) && c.strength < before->strength) {
      c.verdict = BeatVerdict::repolarisation;
    } else {
      c.verdict = c.log_odds > 0 ? BeatVerdict::off_rhythm : BeatVerdict::weak;
    }
  }
}

}  // namespace

std::vector<EcgCandidate> judge_ecg(std::span<const EcgTrack> tracks, const std::vector<std::size_t>& restarts,
                                    const EcgOptions& options, const CommittedBeats& committed) {
  const Hertz rate = tracks[0].rate;
  std::vector<EcgCandidate> candidates;
  if (tracks.size() == 1) {
    const auto reach = track_samples(same_beat, rate);
    candidates = detect_in_lead(tracks[0], restarts, options, committed, reach).candidates;
    keep_committed(candidates, committed, reach);
    std::vector<PathNode> nodes = path_nodes(candidates);
    settle_viterbi_path(nodes, rate, options.refractory, last_costs);
    for (std::size_t i = 0; i < nodes.size(); ++i) candidates[i].beat = nodes[i].beat;
  } else {
    candidates = fuse_leads(tracks, restarts, options, committed);
  }
  drop_other_moments(candidates, rate);
  mark_doubtful(candidates);
  give_verdicts(candidates, rate, options);
  return candidates;
}

}  // namespace pulsewright::beats_stage
