/// From log-odds to the probability that is printed.
#pragma once

namespace pulsewright::beats_stage {

/// Probability that a candidate with these log-odds, chosen or not chosen by the best path, is a true beat.
[[nodiscard]] double ecg_confidence(double log_odds, bool chosen);

}  // namespace pulsewright::beats_stage
