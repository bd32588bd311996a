#include "intensity_bounds.hpp"

#include <cmath>

namespace pulsewright {

std::vector<IntensityBand> intensity_bands(const Effort& effort) {
  std::vector<IntensityBand> bands;
  if (!effort.category_us || !effort.maximum) return bands;
  if (effort.categories_from_reserve && !effort.resting) return bands;
  const auto& bounds = effort.categories_from_reserve ? reserve_bounds : maximum_bounds;
  const BeatsPerMinute foot = effort.categories_from_reserve ? effort.resting->rate : BeatsPerMinute{0};
  for (std::size_t i = 0; i < intensity_count; ++i) {
    IntensityBand band{static_cast<Intensity>(i), std::nullopt, std::nullopt};
    if (i > 0) band.low = foot + bounds[i - 1] * (effort.maximum->rate - foot);
    if (i < bounds.size()) band.high = foot + bounds[i] * (effort.maximum->rate - foot);
    bands.push_back(band);
  }
  return bands;
}

std::string intensity_name(Intensity intensity, const Words& words) {
  return words(std::string("intensity.") + to_string(intensity));
}

std::string intensity_percent(Intensity intensity, bool of_reserve, const Words& words) {
  const auto& bounds = of_reserve ? reserve_bounds : maximum_bounds;
  const auto i = static_cast<std::size_t>(intensity);
  const auto percent = [&](std::size_t k) { return std::lround(100 * bounds[k]); };
  if (i == 0) return words("range.below_percent", {{"high", words.count(percent(0))}});
  if (i == bounds.size()) return words("range.from_percent", {{"low", words.count(percent(i - 1))}});
  return words("range.percent", {{"low", words.count(percent(i - 1))}, {"high", words.count(percent(i) - 1)}});
}

const char* intensity_style(Intensity intensity) {
  static constexpr const char* styles[] = {"shade-1", "shade-2", "shade-3", "shade-4", "shade-5"};
  return styles[static_cast<std::size_t>(intensity)];
}

}  // namespace pulsewright
