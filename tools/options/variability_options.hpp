/// Options of the measures of variability: the spectrum, its bands, sliding windows.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "command_line.hpp"
#include "pulsewright/json.hpp"
#include "pulsewright/variability.hpp"

namespace pulsewright::program {

struct VariabilitySettings {
  std::string spectrum = "welch";
  std::vector<double> ulf, vlf, lf, hf;  ///< low, high; empty: the Task Force's
  std::string breathing;                 ///< `auto`, a frequency, or empty: the HF band is fixed
  std::optional<double> trend, segment, order;
  std::optional<double> window, step;
  std::optional<double> most_flagged;
};

void add_variability_options(Command& command, VariabilitySettings& flags);
/// Throws Error{usage} for bands that are no bands or a breathing rate that is no number.
[[nodiscard]] VariabilityOptions variability_options(const VariabilitySettings& flags);
/// The windows, where they are asked for.
[[nodiscard]] std::optional<SlidingOptions> sliding_options(const VariabilitySettings& flags);
/// The flags that differ from their defaults, under their names without dashes.
[[nodiscard]] Json settings(const VariabilitySettings& flags);

}  // namespace pulsewright::program
