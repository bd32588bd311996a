/// How many decimals a written number needs.
#pragma once

namespace pulsewright::simulation {

/// Fewest decimals in which neighbouring multiples of `step` can be told apart; 0 to 6.
[[nodiscard]] int decimals_for_step(double step);

/// Fewest decimals in which the times of samples at `rate_hz` are exact; 6, the contract's, where they never are.
[[nodiscard]] int decimals_for_times(double rate_hz);

}  // namespace pulsewright::simulation
