/// A class of made-up people whose phases, demands and time constants are known.
#pragma once

#include <cstdint>
#include <vector>

#include "pulsewright/phases.hpp"
#include "pulsewright/simulate.hpp"

namespace accuracy {

/// A member's lesson: what was simulated, and the kind of each of its phases.
struct SimulatedLesson {
  pulsewright::Scenario scenario;
  std::vector<pulsewright::PhaseKind> kinds;
};

/// Rest, warm-up, two to four bouts with pauses between, and at the end a cool-down, or an abrupt stop in one of three, then rest. Resting rates, maxima, time constants, demands and
/// lengths differ from member to member and follow from the seed. `variability_ms` is the SDNN at rest; 0 is a heart like a clock.
[[nodiscard]] SimulatedLesson simulated_lesson(std::uint64_t seed, double variability_ms);

}  // namespace accuracy
