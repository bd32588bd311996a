/// The steps from a pulse to a heart rate where the beats were not used: quality, motion, spectrum, path.
#pragma once

#include <string>
#include <vector>

#include "workings_figures.hpp"

namespace pulsewright {

/// Whether a rate of the stretch came from the spectrum, so that its beats do not explain it.
[[nodiscard]] bool rate_is_from_spectrum(const Workings& workings);

/// A figure and what it shows.
struct WorkingsStep {
  Figure figure;
  std::string text;
};

/// In the order in which they were taken; needs `rate_is_from_spectrum`.
[[nodiscard]] std::vector<WorkingsStep> spectrum_steps(const Workings& workings);

}  // namespace pulsewright
