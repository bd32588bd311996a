/// The detector that a pupil sets with three sliders: smooth, a threshold, and a time in which no second beat counts.
#pragma once

#include <vector>

#include "pulsewright/condition.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright::page {

struct OwnDetector {
  Seconds smooth{0.1};      ///< width of a moving average; 0: none
  double threshold = 0.5;   ///< share of the highest smoothed value within `surroundings` on either side
  Seconds refractory{0.3};  ///< a crossing so soon after a beat counts for nothing
};

inline constexpr Seconds surroundings{2.0};

/// What it saw: as long as the signal, NaN where nothing was recorded.
struct OwnDetection {
  std::vector<float> smoothed, threshold;
  std::vector<Seconds> beats;  ///< the highest point of each stretch above the threshold
};

/// Works on one conditioned signal. An empty signal gives nothing; a gap ends a stretch.
[[nodiscard]] OwnDetection detect(const Signal& signal, const OwnDetector& detector);

}  // namespace pulsewright::page
