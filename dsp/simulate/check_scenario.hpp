/// Refuses scenarios that make no sense, before anything is computed.
#pragma once

#include "pulsewright/simulate.hpp"

namespace pulsewright::simulation {

inline constexpr double lowest_rate_bpm = 15.0;
inline constexpr double most_samples = 134217728.0;  ///< 2^27: six days at 250 Hz, half a gigabyte a channel

/// Throws Error{usage} naming the option, its value and the rule.
void check_scenario(const Scenario& scenario);

}  // namespace pulsewright::simulation
