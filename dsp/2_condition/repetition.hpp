/// How well a stretch of signal repeats itself at the pace of a heart.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "pulsewright/units.hpp"

namespace pulsewright::condition_stage {

/// A signal thinned to a rate at which autocorrelation is cheap.
struct Thinned {
  std::vector<double> values;
  Hertz rate;
};

/// Every k-th sample, so that the rate is at least 25 Hz, three times the top of the pulse band. The signal must have been low-passed before.
Thinned thin(std::span<const float> values, Hertz rate);

/// The highest peak of the normalised autocorrelation at lags of 0.25 to 2 s (30 to 240 beats/min), or its height above the lowest value at
/// shorter lags where that is less; 0 when there is no peak. A wave that repeats has nearly 1, noise about 0.2, a slow drift 0.
double repetition(std::span<const double> values, Hertz rate);

}  // namespace pulsewright::condition_stage
