#include "local_amplitude.hpp"

#include <algorithm>

#include "window_medians.hpp"

namespace pulsewright::beats_stage {
std::vector<float> usual_largest(const std::vector<std::size_t>& at, const std::vector<float>& sizes, Hertz rate,
                                 std::size_t reach) {
  std::vector<float> usual(at.size());
  if (at.empty()) return usual;
  const auto second_of = [&](std::size_t position) {
    return static_cast<std::size_t>(static_cast<double>(position) / rate.value());
  };
  std::vector<float> largest(second_of(at.back()) + 2, 0.0F);
  for (std::size_t k = 0; k < at.size(); ++k) largest[second_of(at[k])] = std::max(largest[second_of(at[k])], sizes[k]);
  for (std::size_t s = 0; s + 1 < largest.size(); ++s) largest[s] = std::max(largest[s], largest[s + 1]);
  largest.pop_back();

  const std::vector<float> by_second = window_medians(largest, reach);
  for (std::size_t k = 0; k < at.size(); ++k) usual[k] = by_second[second_of(at[k])];
  return usual;
}

std::vector<float> beat_level(const std::vector<float>& sizes, const std::vector<bool>& is_beat, std::size_t reach) {
  std::vector<float> beats;
  for (std::size_t k = 0; k < sizes.size(); ++k) {
    if (is_beat[k]) beats.push_back(sizes[k]);
  }
  std::vector<float> level(sizes.size(), 0.0F);
  if (beats.empty()) return level;
  const std::vector<float> medians = window_medians(beats, reach);
  std::size_t passed = 0;  // beats before this candidate
  for (std::size_t k = 0; k < sizes.size(); ++k) {
    level[k] = medians[std::min(passed, medians.size() - 1)];
    if (is_beat[k]) ++passed;
  }
  return level;
}

}  // namespace pulsewright::beats_stage
