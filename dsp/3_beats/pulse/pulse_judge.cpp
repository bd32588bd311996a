#include "pulse_judge.hpp"

#include <algorithm>
#include <cmath>

#include "3_beats/doubtful_stretches.hpp"
#include "3_beats/local_amplitude.hpp"
#include "3_beats/viterbi_path.hpp"
#include "elementary/elementary.hpp"
#include "pulse_likeness.hpp"

namespace pulsewright::beats_stage {
namespace {

// Candidates closer than this are one pulse: an anacrotic shoulder and its peak.
constexpr Seconds candidate_spacing{0.18};

// First guess: this share of the median rise of large candidates over some seconds to either side.
constexpr float first_share = 0.5F;
constexpr std::size_t first_reach_s = 6;

// Beats to either side whose median is the level.
constexpr std::size_t level_reach = 10;

// Log-odds: where rise and steepness are this share of the level a candidate is as likely a pulse as not, and how fast that changes.
// Chosen by hand and left as they were when the development cases of the anaesthesia recordings showed one error; fitted to nothing.
constexpr double even_share = 0.40;
constexpr double rise_weight = 4.0;
constexpr double steepness_weight = 3.0;
constexpr double most_log_odds = 8.0;

// The dicrotic wave follows its peak within this.
constexpr Seconds dicrotic_time{0.60};
constexpr double certain = 50.0;
constexpr float tiny = 1e-9F;

void guess(std::vector<PulseCandidate>& candidates, Hertz rate) {
  std::vector<std::size_t> at;
  std::vector<float> rises;
  at.reserve(candidates.size());
  rises.reserve(candidates.size());
  for (const PulseCandidate& c : candidates) {
    at.push_back(c.at);
    rises.push_back(c.rise);
  }
  const std::vector<float> usual = usual_largest(at, rises, rate, first_reach_s);
  for (std::size_t k = 0; k < candidates.size(); ++k) {
    candidates[k].beat = candidates[k].rise > 0 && candidates[k].rise > first_share * usual[k];
  }
}

void measure_against_level(std::vector<PulseCandidate>& candidates) {
  std::vector<float> rises, slopes;
  std::vector<bool> is_beat;
  rises.reserve(candidates.size());
  slopes.reserve(candidates.size());
  is_beat.reserve(candidates.size());
  for (const PulseCandidate& c : candidates) {
    rises.push_back(c.rise);
    slopes.push_back(c.steepness);
    is_beat.push_back(c.beat);
  }
  const std::vector<float> rise_level = beat_level(rises, is_beat, level_reach);
  const std::vector<float> slope_level = beat_level(slopes, is_beat, level_reach);
  for (std::size_t k = 0; k < candidates.size(); ++k) {
    PulseCandidate& c = candidates[k];
    c.rise_to_level = elementary::log((c.rise + tiny) / (rise_level[k] + tiny));
    c.steepness_to_level = elementary::log((c.steepness + tiny) / (slope_level[k] + tiny));
  }
}

void score(std::vector<PulseCandidate>& candidates) {
  const double even = elementary::log(even_share);
  for (PulseCandidate& c : candidates) {
    const double odds = rise_weight * (static_cast<double>(c.rise_to_level) - even) +
                        steepness_weight * (static_cast<double>(c.steepness_to_level) - even);
    c.log_odds = std::clamp(odds, -most_log_odds, most_log_odds);
  }
}

void keep_committed(std::vector<PulseCandidate>& candidates, const PulseDecided& decided) {
  for (PulseCandidate& c : candidates) {
    if (c.at >= decided.until) return;
    c.beat = std::binary_search(decided.beats.begin(), decided.beats.end(), c.at);
    c.log_odds = c.beat ? certain : -certain;
  }
}

void give_verdicts(std::vector<PulseCandidate>& candidates, Hertz rate, const PulseOptions& options) {
  const PulseCandidate* before = nullptr;
  for (PulseCandidate& c : candidates) {
    if (c.beat) {
      c.verdict = c.doubtful ? BeatVerdict::unreadable : BeatVerdict::accepted;
      before = &c;
      continue;
    }
    const double since = before == nullptr ? 1e9 : static_cast<double>(c.at - before->at);
    if (since < samples_in(options.refractory, rate)) {
      c.verdict = BeatVerdict::too_soon;
    } else if (since < samples_in(dicrotic_time, rate) && c.rise < before->rise) {
      c.verdict = BeatVerdict::reflected;
    } else {
      c.verdict = c.log_odds > 0 ? BeatVerdict::off_rhythm : BeatVerdict::weak;
    }
  }
}

}  // namespace

std::vector<PulseCandidate> judge_pulse(std::span<const float> wave, Hertz rate,
                                        const std::vector<std::size_t>& restarts, const PulseOptions& options,
                                        const PulseDecided& decided) {
  std::vector<PulseCandidate> candidates = propose_pulse_candidates(wave, rate, candidate_spacing);
  if (candidates.empty()) return candidates;
  number_stretches(candidates, restarts);
  guess(candidates, rate);
  // Twice: the second level is that of the beats of the first path.
  for (int pass = 0; pass < 2; ++pass) {
    keep_committed(candidates, decided);
    measure_against_level(candidates);
    score(candidates);
    keep_committed(candidates, decided);
    choose_viterbi_path(candidates, rate, options.refractory);
  }
  measure_pulse_likeness(wave, rate, candidates);
  mark_doubtful(candidates);
  give_verdicts(candidates, rate, options);
  return candidates;
}

}  // namespace pulsewright::beats_stage
