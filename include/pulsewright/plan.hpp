/// A plan for a session: a target and durations turned into heart rates for each phase.
#pragma once

#include <string>
#include <vector>

#include "pulsewright/phases.hpp"
#include "pulsewright/target.hpp"

namespace pulsewright {

/// Durations of a plan.
struct PlanDurations {
  Seconds warm_up{300.0};
  std::vector<Seconds> bouts;  ///< at least one
  Seconds pause{0.0};          ///< between bouts
  Seconds cool_down{300.0};
};

/// Reads durations in minutes: warm-up, work, cool-down, parted by `-`: `5-20-5`; work in bouts as `3x4` (three of four minutes) or `3x4/2` (with pauses of
/// two). Throws Error{usage} naming the part and the rule: each more than 0 and at most 180 minutes, at most 50 bouts.
[[nodiscard]] PlanDurations plan_durations(const std::string& text);

struct PlanPhase {
  PhaseKind kind = PhaseKind::work;
  Span span;
  double low_fraction = 0, high_fraction = 0;  ///< of reserve, or of the maximum as the target is
  BeatsPerMinute low, high;
};

/// Work in the target; warm-up from the lower end of light effort up to the target's lower end; pauses and cool-down in light effort, below the target. Light is 30 to 40 % of
/// reserve or 57 to 64 % of the maximum (Garber et al. 2011, MSSE 43:1334). A ceiling bounds every phase.
[[nodiscard]] std::vector<PlanPhase> session_plan(const TargetZone& target, const PlanDurations& durations);

}  // namespace pulsewright
