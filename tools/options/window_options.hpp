/// Options of the windows over which heart rate is taken.
#pragma once

#include "command_line.hpp"
#include "pulsewright/json.hpp"
#include "pulsewright/rate.hpp"

namespace pulsewright::program {

struct WindowFlags {
  double window = 8;
  double step = 2;
  double least_confidence = 0.5;
};

/// --window, --step, --least-confidence.
void add_window_options(Command& command, WindowFlags& flags);
[[nodiscard]] RateOptions rate_options(const WindowFlags& flags);
/// The flags that differ from their defaults.
[[nodiscard]] Json settings(const WindowFlags& flags);

}  // namespace pulsewright::program
