/// A signal drawn in characters, with the beats under it.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "pulsewright/live_screen.hpp"

namespace pulsewright::live_stage {

/// The last seconds of a trace, newest at the right: `rows` lines of the wave, and one with `^`
/// under each beat.
[[nodiscard]] std::vector<std::string> trace_rows(const LiveGlance& glance, std::size_t columns, std::size_t rows);

}  // namespace pulsewright::live_stage
