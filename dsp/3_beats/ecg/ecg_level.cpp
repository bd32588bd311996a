#include "ecg_level.hpp"

#include <cmath>
#include <cstddef>

#include "3_beats/local_amplitude.hpp"
#include "elementary/elementary.hpp"

namespace pulsewright::beats_stage {
namespace {

constexpr float tiny = 1e-6F;

// Beats to either side whose median is the level.
constexpr std::size_t reach = 12;

// Of a number of each candidate: what it is among the beats around.
std::vector<float> level_of(const EcgCandidates& candidates, float Proposed::*number) {
  std::vector<float> numbers;
  std::vector<bool> is_beat;
  numbers.reserve(candidates.size());
  is_beat.reserve(candidates.size());
  for (const EcgCandidate& c : candidates) {
    numbers.push_back(c.*number);
    is_beat.push_back(c.beat);
  }
  return beat_level(numbers, is_beat, reach);
}

}  // namespace

std::vector<ToLevel> levels_of(const EcgCandidates& candidates) {
  const std::vector<float> strength = level_of(candidates, &Proposed::strength),
                           breadth = level_of(candidates, &Proposed::breadth);
  std::vector<ToLevel> levels(candidates.size());
  for (std::size_t k = 0; k < candidates.size(); ++k) {
    const EcgCandidate& c = candidates[k];
    levels[k].strength = elementary::log((c.strength + tiny) / (strength[k] + tiny));
    levels[k].breadth = elementary::log((c.breadth + tiny) / (breadth[k] + tiny));
  }
  return levels;
}

std::vector<float> noise_levels_of(const EcgCandidates& candidates) {
  return level_of(candidates, &Proposed::to_background);
}

}  // namespace pulsewright::beats_stage
