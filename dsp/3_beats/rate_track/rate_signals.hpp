/// Recording -> pulse and motion signals on one slow grid, for the rate track.
#pragma once

#include <string>
#include <vector>

#include "pulsewright/rate_track.hpp"

namespace pulsewright::beats_stage {

/// Signals filtered to 0.4 to 8 Hz, at about 25 Hz. Missing samples are NaN in pulse signals, 0 in motion signals.
struct RateSignals {
  Hertz rate{0};
  Seconds start;
  std::vector<std::vector<float>> pulse;
  std::vector<std::vector<float>> acceleration;
  std::vector<std::vector<float>> rotation;

  [[nodiscard]] std::size_t size() const { return pulse.empty() ? 0 : pulse[0].size(); }
};

/// Puts the channels of the options on the grid, from the chosen signals where they are there. No pulse signal in the result when the rate is below 16 Hz. Throws Error{usage} as `track_rate`.
[[nodiscard]] RateSignals gather_rate_signals(const Recording& recording, const ChosenSignals& chosen,
                                              const TrackOptions& options);

}  // namespace pulsewright::beats_stage
