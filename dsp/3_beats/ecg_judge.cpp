#include "ecg_judge.hpp"

#include <algorithm>

#include "beat_path.hpp"
#include "doubtful_stretches.hpp"
#include "ecg_context.hpp"
#include "ecg_fuse.hpp"
#include "ecg_level.hpp"

#include "ecg_score.hpp"
#include "ecg_templates.hpp"

namespace pulsewright::beats_stage {
namespace {

// Candidates below this logarithm of strength over the beats around, one twentieth, are not looked at further.
constexpr float faintest = -3.0F;
// T waves follow their beat within this.
constexpr Seconds repolarisation_time{0.45};
// Stands for certainty among log-odds.
constexpr double certain = 50.0;

void keep_decided(std::vector<EcgCandidate>& candidates, const EcgDecided& decided) {
  for (EcgCandidate& c : candidates) {
    if (c.at >= decided.until) return;
    c.beat = std::binary_search(decided.beats.begin(), decided.beats.end(), c.at);
    c.log_odds = c.beat ? certain : -certain;
  }
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

std::vector<EcgCandidate> judge_signal(const EcgTrack& track, const std::vector<std::size_t>& restarts,
                                       const EcgOptions& options, const EcgDecided& decided) {
  std::vector<EcgCandidate> candidates = propose_ecg_candidates(track);
  if (candidates.empty()) return candidates;
  number_stretches(candidates, restarts);

  guess_ecg_beats(candidates, track.rate);
  keep_decided(candidates, decided);
  measure_against_level(candidates);
  std::erase_if(candidates, [](const EcgCandidate& c) { return !c.beat && c.to_level < faintest; });
  measure_neighbours(candidates, track.rate);
  measure_likeness(candidates, track);
  score_at_first_look(candidates);
  keep_decided(candidates, decided);
  choose_best_path(candidates, track.rate, options.refractory);

  measure_against_level(candidates);
  measure_against_usual(candidates, track);
  score_in_context(candidates);
  return candidates;
}

}  // namespace

std::vector<EcgCandidate> judge_ecg(std::span<const EcgTrack> tracks, const std::vector<std::size_t>& restarts,
                                    const EcgOptions& options, const EcgDecided& decided) {
  const Hertz rate = tracks[0].rate;
  std::vector<EcgCandidate> candidates;
  if (tracks.size() == 1) {
    candidates = judge_signal(tracks[0], restarts, options, decided);
  } else {
    std::vector<std::vector<EcgCandidate>> judged;
    for (const EcgTrack& track : tracks) judged.push_back(judge_signal(track, restarts, options, decided));
    candidates = fuse_judged(judged, rate);
  }
  // Twice: the second path knows the rhythm of the first.
  for (int pass = 0; pass < 2; ++pass) {
    keep_decided(candidates, decided);
    choose_best_path(candidates, rate, options.refractory);
  }
  mark_doubtful(candidates);
  give_verdicts(candidates, rate, options);
  return candidates;
}

}  // namespace pulsewright::beats_stage
