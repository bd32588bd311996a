/// What breathing moves, beat by beat.
#pragma once

#include <span>
#include <vector>

#include "pulsewright/beats.hpp"
#include "pulsewright/recording.hpp"

namespace pulsewright {

/// One value a beat, in time order.
struct BeatSeries {
  std::vector<double> time_s;
  std::vector<double> value;
};

/// The intervals, then height and level of each channel's waves. Intervals beyond 2.5 s and waves with samples that were not recorded are left out.
[[nodiscard]] std::vector<BeatSeries> breathing_modulations(const std::vector<Beat>& beats,
                                                            std::span<const Channel* const> channels);

}  // namespace pulsewright
