/// The intensity categories of one session as heart rates.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "8_report/words/words.hpp"
#include "pulsewright/effort.hpp"

namespace pulsewright {

/// One category from `low` up to, not including, `high`; the lowest has no lower end and the highest no upper.
struct IntensityBand {
  Intensity intensity = Intensity::very_light;
  std::optional<BeatsPerMinute> low, high;
};

/// Every category in order; empty when the session has none.
[[nodiscard]] std::vector<IntensityBand> intensity_bands(const Effort& effort);

/// The category's name, and its bounds in per cent as people read them (Garber et al. 2011, MSSE 43:1334).
[[nodiscard]] std::string intensity_name(Intensity intensity, const Words& words);
[[nodiscard]] std::string intensity_percent(Intensity intensity, bool of_reserve, const Words& words);

/// Class of its shade in figures.
[[nodiscard]] const char* intensity_style(Intensity intensity);

}  // namespace pulsewright
