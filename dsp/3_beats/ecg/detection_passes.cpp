#include "detection_passes.hpp"

#include "ecg_context.hpp"
#include "ecg_in_noise.hpp"
#include "ecg_level.hpp"
#include "ecg_score.hpp"
#include "ecg_shapes.hpp"
#include "ecg_steps.hpp"
#include "ecg_templates.hpp"

namespace pulsewright::beats_stage {
namespace {

// Candidates below this logarithm of strength over the beats around, one twentieth, are not looked at further.
constexpr float faintest = -3.0F;
// Nor are those which the first look would put below these log-odds even if they looked just like a complex: half of them all. From -10 on beats of the development records are lost.
constexpr double hopeless = -13.0;
// The second look into noise knows the beats that the first one found there.
constexpr int looks_in_noise = 2;

// The causal form does not look into noise: what it took for a beat there stands, and would teach it more of the same.
bool in_hindsight(const CommittedBeats& committed) { return committed.until == 0; }

// Everything that the beats marked so far say about the candidates.
void measure_in_context(std::vector<EcgCandidate>& candidates, const EcgTrack& track) {
  measure_against_level(candidates);
  measure_neighbours(candidates, track.rate);
  measure_likeness(candidates, track);
  measure_against_usual(candidates, track);
  measure_noise_level(candidates);
  score_in_context(candidates);
}

std::vector<EcgCandidate> looks_at(const EcgTrack& track, const std::vector<std::size_t>& restarts,
                                   const EcgOptions& options, const CommittedBeats& committed, std::size_t reach) {
  std::vector<EcgCandidate> candidates = propose_ecg_candidates(track);
  if (candidates.empty()) return candidates;
  number_stretches(candidates, restarts);

  guess_ecg_beats(candidates, track.rate);
  keep_committed(candidates, committed, reach);
  measure_against_level(candidates);
  std::erase_if(candidates, [](const EcgCandidate& c) { return !c.beat && c.to_level < faintest; });
  measure_neighbours(candidates, track.rate);
  std::erase_if(candidates, [](const EcgCandidate& c) { return !c.beat && first_log_odds_at_best(c) < hopeless; });
  measure_likeness(candidates, track);
  score_at_first_look(candidates);
  keep_committed(candidates, committed, reach);
  choose_viterbi_path(candidates, track.rate, options.refractory);

  measure_against_level(candidates);
  measure_against_usual(candidates, track);
  score_in_context(candidates);
  keep_committed(candidates, committed, reach);
  choose_viterbi_path(candidates, track.rate, options.refractory, in_hindsight(committed) ? last_costs : PathCosts{});

  measure_noise_level(candidates);
  const int looks = in_hindsight(committed) ? looks_in_noise : 0;
  for (int look = 0; look < looks; ++look) {
    const SearchInNoise search{candidates, track, look == 0 ? TemplatesFrom::quieter_beats : TemplatesFrom::sure_beats};
    if (!search.needed()) break;
    search.propose(candidates, track);
    number_stretches(candidates, restarts);
    measure_in_context(candidates, track);
    search.measure(candidates);
    measure_shapes(candidates, track);
    score_by_shape(candidates);
    if (look + 1 == looks) return candidates;
    choose_viterbi_path(candidates, track.rate, options.refractory, last_costs);
  }
  measure_shapes(candidates, track);
  score_by_shape(candidates);
  return candidates;
}

}  // namespace

LeadDetection detect_in_lead(const EcgTrack& track, const std::vector<std::size_t>& restarts, const EcgOptions& options,
                             const CommittedBeats& committed, std::size_t reach) {
  LeadDetection look{looks_at(track, restarts, options, committed, reach), {}};
  look.stepless = without_steps(track, look.candidates);
  if (look.stepless) look.candidates = looks_at(*look.stepless, restarts, options, committed, reach);
  return look;
}

void measure_again(std::vector<EcgCandidate>& candidates, const EcgTrack& track, const CommittedBeats& committed) {
  measure_in_context(candidates, track);
  if (in_hindsight(committed)) SearchInNoise{candidates, track, TemplatesFrom::quieter_beats}.measure(candidates);
  measure_shapes(candidates, track);
  score_by_shape(candidates);
}

}  // namespace pulsewright::beats_stage
