#include "pulse_judge.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "beat_path.hpp"

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
// Set on the development cases of the anaesthesia recordings.
constexpr double even_share = 0.40;
constexpr double rise_weight = 4.0;
constexpr double steepness_weight = 3.0;
constexpr double most_log_odds = 8.0;

// The dicrotic wave follows its peak within this.
constexpr Seconds dicrotic_time{0.60};
constexpr double certain = 50.0;
constexpr float tiny = 1e-9F;

void guess(std::vector<PulseCandidate>& candidates, Hertz rate) {
  const auto second_of = [&](const PulseCandidate& c) {
    return static_cast<std::size_t>(static_cast<double>(c.at) / rate.value());
  };
  std::vector<float> largest(second_of(candidates.back()) + 2, 0.0F);
  for (const PulseCandidate& c : candidates) largest[second_of(c)] = std::max(largest[second_of(c)], c.rise);
  for (std::size_t s = 0; s + 1 < largest.size(); ++s) largest[s] = std::max(largest[s], largest[s + 1]);
  largest.pop_back();
  std::vector<float> window;
  std::vector<float> usual(largest.size());
  for (std::size_t s = 0; s < largest.size(); ++s) {
    const std::size_t first = s > first_reach_s ? s - first_reach_s : 0;
    const std::size_t last = std::min(largest.size(), s + first_reach_s + 1);
    window.assign(largest.begin() + static_cast<std::ptrdiff_t>(first),
                  largest.begin() + static_cast<std::ptrdiff_t>(last));
    const auto middle = window.begin() + static_cast<std::ptrdiff_t>(window.size() / 2);
    std::nth_element(window.begin(), middle, window.end());
    usual[s] = *middle;
  }
  for (PulseCandidate& c : candidates) c.beat = c.rise > 0 && c.rise > first_share * usual[second_of(c)];
}

float median_of(const std::vector<float>& values, std::size_t first, std::size_t last) {
  std::array<float, 2 * level_reach + 1> window{};
  const auto end = std::copy(values.begin() + static_cast<std::ptrdiff_t>(first),
                             values.begin() + static_cast<std::ptrdiff_t>(last), window.begin());
  const auto middle = window.begin() + (end - window.begin()) / 2;
  std::nth_element(window.begin(), middle, end);
  return *middle;
}

void measure_against_level(std::vector<PulseCandidate>& candidates) {
  std::vector<float> rises, slopes;
  for (const PulseCandidate& c : candidates) {
    if (!c.beat) continue;
    rises.push_back(c.rise);
    slopes.push_back(c.steepness);
  }
  std::size_t passed = 0;
  for (PulseCandidate& c : candidates) {
    const std::size_t first = passed > level_reach ? passed - level_reach : 0;
    const std::size_t last = std::min(rises.size(), passed + level_reach + 1);
    const float rise = first < last ? median_of(rises, first, last) : 0.0F;
    const float slope = first < last ? median_of(slopes, first, last) : 0.0F;
    c.rise_to_level = std::log((c.rise + tiny) / (rise + tiny));
    c.steepness_to_level = std::log((c.steepness + tiny) / (slope + tiny));
    if (c.beat) ++passed;
  }
}

void score(std::vector<PulseCandidate>& candidates) {
  const double even = std::log(even_share);
  for (PulseCandidate& c : candidates) {
    const double odds = rise_weight * (static_cast<double>(c.rise_to_level) - even) +
                        steepness_weight * (static_cast<double>(c.steepness_to_level) - even);
    c.log_odds = std::clamp(odds, -most_log_odds, most_log_odds);
  }
}

void keep_decided(std::vector<PulseCandidate>& candidates, const PulseDecided& decided) {
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
      c.verdict = BeatVerdict::accepted;
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
    keep_decided(candidates, decided);
    measure_against_level(candidates);
    score(candidates);
    keep_decided(candidates, decided);
    choose_best_path(candidates, rate, options.refractory);
  }
  give_verdicts(candidates, rate, options);
  return candidates;
}

}  // namespace pulsewright::beats_stage
