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

}  // namespace

void measure_against_level(std::vector<EcgCandidate>& candidates) {
  std::vector<float> strengths, breadths;
  std::vector<bool> is_beat;
  strengths.reserve(candidates.size());
  breadths.reserve(candidates.size());
  is_beat.reserve(candidates.size());
  for (const EcgCandidate& c : candidates) {
    strengths.push_back(c.strength);
    breadths.push_back(c.breadth);
    is_beat.push_back(c.beat);
  }
  const std::vector<float> strength_level = beat_level(strengths, is_beat, reach);
  const std::vector<float> breadth_level = beat_level(breadths, is_beat, reach);
  for (std::size_t k = 0; k < candidates.size(); ++k) {
    EcgCandidate& c = candidates[k];
    c.to_level = elementary::log((c.strength + tiny) / (strength_level[k] + tiny));
    c.breadth_to_level = elementary::log((c.breadth + tiny) / (breadth_level[k] + tiny));
  }
}

void measure_noise_level(std::vector<EcgCandidate>& candidates) {
  std::vector<float> backgrounds;
  std::vector<bool> is_beat;
  backgrounds.reserve(candidates.size());
  is_beat.reserve(candidates.size());
  for (const EcgCandidate& c : candidates) {
    backgrounds.push_back(c.to_background);
    is_beat.push_back(c.beat);
  }
  const std::vector<float> doubts = beat_level(backgrounds, is_beat, reach);
  for (std::size_t k = 0; k < candidates.size(); ++k) candidates[k].noise_level = doubts[k];
}

}  // namespace pulsewright::beats_stage
