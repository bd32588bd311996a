#include "ecg_level.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace pulsewright::beats_stage {
namespace {

constexpr float tiny = 1e-6F;

// Beats to either side whose median is the level.
constexpr std::size_t reach = 12;

float median_of(const std::vector<float>& values, std::size_t first, std::size_t last) {
  std::array<float, 2 * reach + 1> window{};
  const auto end = std::copy(values.begin() + static_cast<std::ptrdiff_t>(first),
                             values.begin() + static_cast<std::ptrdiff_t>(last), window.begin());
  const auto middle = window.begin() + (end - window.begin()) / 2;
  std::nth_element(window.begin(), middle, end);
  return *middle;
}

}  // namespace

void measure_against_level(std::vector<EcgCandidate>& candidates) {
  std::vector<float> strengths, breadths;
  for (const EcgCandidate& c : candidates) {
    if (!c.beat) continue;
    strengths.push_back(c.strength);
    breadths.push_back(c.breadth);
  }
  std::size_t passed = 0;  // accepted beats before this candidate
  std::size_t known_for = candidates.size() + 1;
  float strength_level = 0, breadth_level = 0;
  for (EcgCandidate& c : candidates) {
    if (passed != known_for) {
      const std::size_t first = passed > reach ? passed - reach : 0;
      const std::size_t last = std::min(strengths.size(), passed + reach + 1);
      strength_level = first < last ? median_of(strengths, first, last) : 0.0F;
      breadth_level = first < last ? median_of(breadths, first, last) : 0.0F;
      known_for = passed;
    }
    c.to_level = std::log((c.strength + tiny) / (strength_level + tiny));
    c.breadth_to_level = std::log((c.breadth + tiny) / (breadth_level + tiny));
    if (c.beat) ++passed;
  }
}

}  // namespace pulsewright::beats_stage
