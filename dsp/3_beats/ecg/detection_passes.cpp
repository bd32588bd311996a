#include "detection_passes.hpp"

#include <algorithm>
#include <utility>

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
// Nor are those which the first pass would put below these log-odds even if they looked just like a complex: half of
// them all. From -10 on beats of the development records are lost.
constexpr double hopeless = -13.0;

// The candidates with a measure of each filled in.
template <class Value, class Place>
EcgCandidates with(EcgCandidates candidates, const std::vector<Value>& values, Place place) {
  for (std::size_t k = 0; k < candidates.size(); ++k) place(candidates[k]) = values[k];
  return candidates;
}
EcgCandidates with_levels(EcgCandidates candidates) {
  const std::vector<ToLevel> levels = levels_of(candidates);
  return with(std::move(candidates), levels, [](EcgCandidate& c) -> ToLevel& { return c.context.to_level; });
}
EcgCandidates with_neighbours(EcgCandidates candidates, Hertz rate) {
  const std::vector<Neighbours> neighbours = neighbours_of(candidates, rate);
  return with(std::move(candidates), neighbours, [](EcgCandidate& c) -> Neighbours& { return c.context.neighbours; });
}
EcgCandidates with_likenesses(EcgCandidates candidates, const EcgTrack& track) {
  const std::vector<float> likeness = likenesses(candidates, track);
  return with(std::move(candidates), likeness, [](EcgCandidate& c) -> float& { return c.context.likeness; });
}
EcgCandidates over_the_usual(EcgCandidates candidates, const EcgTrack& track) {
  const std::vector<OverUsual> over = over_usual(candidates, track);
  return with(std::move(candidates), over, [](EcgCandidate& c) -> OverUsual& { return c.context.over_usual; });
}
EcgCandidates with_noise_levels(EcgCandidates candidates) {
  const std::vector<float> levels = noise_levels_of(candidates);
  return with(std::move(candidates), levels, [](EcgCandidate& c) -> float& { return c.context.noise_level; });
}
EcgCandidates with_shapes(EcgCandidates candidates, const EcgTrack& track) {
  const std::vector<Shaped> shapes = shapes_of(candidates, track);
  return with(std::move(candidates), shapes, [](EcgCandidate& c) -> Shaped& { return c.shape; });
}
EcgCandidates matched(EcgCandidates candidates, const SearchInNoise& search) {
  const std::vector<InNoise> measures = search.measures(candidates);
  candidates = with(std::move(candidates), measures, [](EcgCandidate& c) -> InNoise& { return c.noise; });
  for (EcgCandidate& c : candidates)
    if (c.noise.share > 0 && c.noise.match >= SearchInNoise::clear_match)
      c.log_odds = std::max(c.log_odds, out_of_question);
  return candidates;
}
EcgCandidates scored(EcgCandidates candidates, double (*log_odds)(const EcgCandidate&)) {
  for (EcgCandidate& c : candidates) c.log_odds = log_odds(c);
  return candidates;
}

// Everything that the beats believed so far say about the candidates.
EcgCandidates measured_in_context(EcgCandidates candidates, const EcgTrack& track) {
  candidates = with_levels(std::move(candidates));
  candidates = with_neighbours(std::move(candidates), track.rate);
  candidates = with_likenesses(std::move(candidates), track);
  candidates = over_the_usual(std::move(candidates), track);
  candidates = with_noise_levels(std::move(candidates));
  return scored(std::move(candidates), context_log_odds);
}

EcgCandidates judged_by_shape(EcgCandidates candidates, const EcgTrack& track) {
  return scored(with_shapes(std::move(candidates), track), shape_log_odds);
}

// The passes over one track.
class Passes {
 public:
  Passes(const EcgTrack& track, const Judging& judging, std::size_t reach)
      : track_(track), judging_(judging), reach_(reach) {}

  [[nodiscard]] EcgCandidates all() const {
    EcgCandidates proposed = propose_ecg_candidates(track_);
    if (proposed.empty()) return proposed;
    number_stretches(proposed, judging_.restarts);
    EcgCandidates in_context = with_noise_levels(context_pass(first_pass(std::move(proposed))));
    if (judging_.form == Form::whole_file) return shape_pass_in_noise(std::move(in_context));
    return judged_by_shape(std::move(in_context), track_);
  }

 private:
  // By themselves, and by their likeness to those that stand out.
  [[nodiscard]] EcgCandidates first_pass(EcgCandidates candidates) const {
    const std::vector<bool> guessed = guessed_beats(candidates, track_.rate);
    for (std::size_t k = 0; k < candidates.size(); ++k) candidates[k].beat = guessed[k];
    keep_committed(candidates, judging_.committed, reach_);
    candidates = with_levels(std::move(candidates));
    std::erase_if(candidates, [](const EcgCandidate& c) { return !c.beat && c.context.to_level.strength < faintest; });
    candidates = with_neighbours(std::move(candidates), track_.rate);
    std::erase_if(candidates, [](const EcgCandidate& c) { return !c.beat && first_log_odds_at_best(c) < hopeless; });
    candidates = scored(with_likenesses(std::move(candidates), track_), first_log_odds);
    return on_best_path(std::move(candidates), PathCosts{});
  }

  // Against what the beats of the first path have at the same delays.
  [[nodiscard]] EcgCandidates context_pass(EcgCandidates candidates) const {
    candidates = over_the_usual(with_levels(std::move(candidates)), track_);
    candidates = scored(std::move(candidates), context_log_odds);
    return on_best_path(std::move(candidates), judging_.form == Form::whole_file ? last_costs : PathCosts{});
  }

  // Where noise is strong, with what is found in it: the second search knows the beats that the first one found there.
  [[nodiscard]] EcgCandidates shape_pass_in_noise(EcgCandidates candidates) const {
    for (const TemplatesFrom from : {TemplatesFrom::quieter_beats, TemplatesFrom::sure_beats}) {
      const SearchInNoise search{candidates, track_, from};
      if (!search.needed()) break;
      candidates = search.with_proposals(candidates, track_);
      number_stretches(candidates, judging_.restarts);
      candidates = matched(measured_in_context(std::move(candidates), track_), search);
      candidates = judged_by_shape(std::move(candidates), track_);
      if (from == TemplatesFrom::sure_beats) return candidates;
      choose_viterbi_path(candidates, track_.rate, judging_.options.refractory, last_costs);
    }
    return judged_by_shape(std::move(candidates), track_);
  }

  [[nodiscard]] EcgCandidates on_best_path(EcgCandidates candidates, const PathCosts& costs) const {
    keep_committed(candidates, judging_.committed, reach_);
    choose_viterbi_path(candidates, track_.rate, judging_.options.refractory, costs);
    return candidates;
  }

  const EcgTrack& track_;
  const Judging& judging_;
  std::size_t reach_;
};

}  // namespace

LeadDetection detect_in_lead(const EcgTrack& track, const Judging& judging, std::size_t reach) {
  LeadDetection detection{Passes{track, judging, reach}.all(), {}};
  detection.stepless = without_steps(track, detection.candidates);
  if (detection.stepless) detection.candidates = Passes{*detection.stepless, judging, reach}.all();
  return detection;
}

EcgCandidates measured_again(EcgCandidates candidates, const EcgTrack& track, Form form) {
  candidates = measured_in_context(std::move(candidates), track);
  if (form == Form::whole_file) {
    const SearchInNoise search{candidates, track, TemplatesFrom::quieter_beats};
    candidates = matched(std::move(candidates), search);
  }
  return judged_by_shape(std::move(candidates), track);
}

}  // namespace pulsewright::beats_stage
