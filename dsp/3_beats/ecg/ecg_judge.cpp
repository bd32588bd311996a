#include "ecg_judge.hpp"

#include <algorithm>
#include <cmath>

#include "3_beats/doubtful_stretches.hpp"
#include "3_beats/viterbi_path.hpp"
#include "lead_fusion.hpp"

namespace pulsewright::beats_stage {
namespace {

// T waves follow their beat within this.
constexpr Seconds repolarisation_time{0.45};

// A committed beat is this near to where it was, when steps near by have been taken out meanwhile.
constexpr Seconds same_beat{0.030};

// The search in noise proposes further moments of complexes that have a candidate already. Those nearer to a beat than candidates otherwise are to each other are the same complex.
constexpr Seconds same_complex{0.120};

void drop_other_moments(std::vector<JudgedComplex>& candidates, Hertz rate) {
  std::vector<std::size_t> beats;
  for (const JudgedComplex& c : candidates)
    if (c.beat) beats.push_back(c.at);
  const std::size_t same = track_samples(same_complex, rate);
  std::erase_if(candidates, [&](const JudgedComplex& c) {
    if (c.beat || c.noise.share <= 0) return false;
    const auto after = std::lower_bound(beats.begin(), beats.end(), c.at);
    return (after != beats.end() && *after - c.at < same) || (after != beats.begin() && c.at - *(after - 1) < same);
  });
}

void give_verdicts(std::vector<JudgedComplex>& candidates, Hertz rate, const EcgOptions& options) {
  const JudgedComplex* before = nullptr;
  for (std::size_t k = 0; k < candidates.size(); ++k) {
    JudgedComplex& c = candidates[k];
    if (c.beat) {
      c.verdict = c.doubtful ? BeatVerdict::unreadable : BeatVerdict::accepted;
      before = &c;
      continue;
    }
    const JudgedComplex* after = nullptr;
    for (std::size_t j = k + 1; j < candidates.size() && after == nullptr; ++j) {
      if (candidates[j].beat) after = &candidates[j];
    }
    const auto closer = [&](const JudgedComplex* beat, Seconds reach) {
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

std::vector<JudgedComplex> judge_ecg(std::span<const EcgTrack> tracks, const Judging& judging) {
  const Hertz rate = tracks[0].rate;
  std::vector<JudgedComplex> judged;
  if (tracks.size() == 1) {
    const auto reach = track_samples(same_beat, rate);
    EcgCandidates candidates = detect_in_lead(tracks[0], judging, reach).candidates;
    keep_committed(candidates, judging.committed, reach);
    std::vector<PathNode> nodes = path_nodes(candidates);
    settle_viterbi_path(nodes, rate, judging.options.refractory, last_costs);
    for (std::size_t i = 0; i < nodes.size(); ++i)
      judged.emplace_back(JudgedComplex{candidates[i]}).beat = nodes[i].beat;
  } else {
    judged = fuse_leads(tracks, judging);
  }
  drop_other_moments(judged, rate);
  mark_doubtful(judged);
  give_verdicts(judged, rate, judging.options);
  return judged;
}

}  // namespace pulsewright::beats_stage
