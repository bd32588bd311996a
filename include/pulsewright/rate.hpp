/// Stage 5a: beats and intervals -> heart rate over windows.
#pragma once

#include <optional>
#include <vector>

#include "pulsewright/beats.hpp"
#include "pulsewright/clean.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright {

/// Which path produced a rate.
enum class RateMethod { none, beats, spectrum, device };

[[nodiscard]] const char* to_string(RateMethod method);

/// Heart rate over one window [start, end). All optional fields are present or absent together.
struct RateWindow {
  Span window;
  std::optional<BeatsPerMinute> rate;
  std::optional<BeatsPerMinute> low;  ///< 95 % interval
  std::optional<BeatsPerMinute> high;
  std::optional<double> confidence;  ///< probability that `rate` lies within 5 beats/min of the truth
  RateMethod method = RateMethod::none;
};

struct RateOptions {
  Seconds window{8.0};
  Seconds step{2.0};
};

struct RateSeries {
  std::vector<RateWindow> windows;  ///< full windows only, from 0 s on
  RateOptions options;
  Seconds duration;  ///< of the recording
  Warnings warnings;
  Provenance provenance;
};

/// Rate over windows from accepted beats: 60 (N - 1) / (last - first) over the beats in the window.
/// A window with fewer than three beats, or more than half of it unreadable or gap, or with a flagged interval that makes its rate doubtful beyond
/// the 95 % interval's reach, has no rate. A recording shorter than one window has no windows and a warning.
/// Throws Error{contract} when window or step are not positive.
[[nodiscard]] RateSeries rate_over_windows(const BeatTrain& beats, const Intervals& intervals,
                                           const RateOptions& options = {});

/// Rate from beat to beat: one value per normal interval, at its end.
struct InstantRate {
  Seconds time;
  BeatsPerMinute rate;
};
[[nodiscard]] std::vector<InstantRate> instant_rates(const Intervals& intervals);

}  // namespace pulsewright
