/// Stage 8 for breathing: text, CSV, JSON.
#pragma once

#include <string>

#include "pulsewright/breathing.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright {

/// `start_s,end_s,breaths_per_min,low_per_min,high_per_min`: a row a window.
[[nodiscard]] std::string breathing_csv(const BreathingSeries& series, const NumberStyle& style = {});
[[nodiscard]] std::string breathing_json(const BreathingSeries& series);
[[nodiscard]] std::string breathing_text(const BreathingSeries& series);

}  // namespace pulsewright
