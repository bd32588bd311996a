/// Heart rate that can be asked for at any time.
#pragma once

#include <optional>
#include <vector>

#include "pulsewright/rate_study.hpp"

namespace pulsewright {

/// Shorter windows hold too few beats for a rate; a device that reads off a rate every second has averaged it over about so much (ours).
inline constexpr Seconds shortest_window{4.0};
inline constexpr Seconds usual_window{8.0};

/// From beats: 60 (N - 1) / (last - first) over the corrected beats in the window around the time, as windows have it; nothing for fewer than three, or where one is missing. From windows:
/// straight lines between the middles of neighbours that both have a rate.
class RateAtAnyTime {
 public:
  [[nodiscard]] static RateAtAnyTime of_beats(const BeatTrain& beats, Seconds window);
  [[nodiscard]] static RateAtAnyTime of_windows(const RateSeries& rates);

  [[nodiscard]] std::optional<double> at(double time_s) const;
  /// Change per second, over a second to either side.
  [[nodiscard]] std::optional<double> slope_at(double time_s) const;

 private:
  [[nodiscard]] std::optional<double> over_beats(double time_s) const;
  [[nodiscard]] std::optional<double> between_windows(double time_s) const;

  std::vector<double> times_;  ///< of beats, or middles of windows
  std::vector<double> rates_;  ///< of windows; empty: from beats
  double window_s_ = 0;
  double longest_s_ = 0;  ///< between windows that a line may join
};

/// The corrected beats: ends of the intervals that stand after cleaning.
[[nodiscard]] std::vector<Seconds> corrected_beats(const BeatTrain& train);

}  // namespace pulsewright
