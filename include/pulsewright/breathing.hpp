/// Stage 5c: beats and the waves around them -> breathing rate over windows. Breathing moves the intervals between beats, the height of their waves and the level that
/// they stand on; none of the three does in everybody, together they mostly do.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "pulsewright/beats.hpp"
#include "pulsewright/recording.hpp"

namespace pulsewright {

struct BreathingOptions {
  Seconds window{32.0};
  Seconds step{4.0};
  /// A window whose 95 % interval is wider than this has no rate: 8 breaths/min.
  Hertz widest{8.0 / 60.0};
};

/// Breathing over one window [start, end). All three are present or absent together.
struct BreathingWindow {
  Span window;
  std::optional<Hertz> rate;
  std::optional<Hertz> low, high;  ///< 95 % interval
};

struct BreathingSeries {
  std::vector<BreathingWindow> windows;  ///< full windows only, from 0 s on
  BreathingOptions options;
  Seconds duration;
  Warnings warnings;
  Provenance provenance;
};

/// Slowest and fastest breathing that is looked for: 4 to 60 breaths/min.
inline constexpr Hertz slowest_breathing{4.0 / 60.0};
inline constexpr Hertz fastest_breathing{1.0};

/// Breathing rate from accepted beats, and from the channels that they were found in: none for a bare list of beats, several where beats came from several.
///
/// Series by beat: the interval that ends there; of each channel, between the middles of the two intervals around a beat, the wave's height (highest minus lowest sample) and
/// its level (their mean). Each series is put on a grid of 4 Hz, freed of a quadratic trend and of outliers (4 scaled median absolute deviations), and transformed window by window; powers, weighed by the root of the frequency, are taken as shares of
/// their sum. The evidence for a rate is the mean over the series of the logarithm of its share, raised where harmonics stand above it (the geometric mean with the shares at twice and three times the rate, quarter weight).
/// A hidden Markov chain over the windows gives the probability of each rate, of which the median is the rate and the 2.5 and 97.5 % points are its interval.
///
/// A breath is seen through beats, so that breathing faster than half the heart rate shows at a wrong place; such rates are not looked for. Irregular breathing has no one rate, and its windows are mostly
/// empty. Warnings: `breathing_from_intervals_alone` without channels. A train shorter than a window has no windows. A window without eight beats has no rate.
/// Throws Error{contract} when window, step or widest are not positive, or a window is longer than an hour.
[[nodiscard]] BreathingSeries breathing_rate(const BeatTrain& beats, std::span<const Channel* const> channels,
                                             const BreathingOptions& options = {});

}  // namespace pulsewright
