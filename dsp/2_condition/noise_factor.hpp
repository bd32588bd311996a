/// The noise part of the quality index: does each second look like its kind of wave?
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "pulsewright/units.hpp"

namespace pulsewright::condition_stage {

/// Half-open range of samples of second `k`, `n` samples in all.
struct SampleRange {
  std::size_t first;
  std::size_t last;
};
/// The number of seconds that `n` samples touch; `n` must not be 0.
std::size_t seconds_in(std::size_t n, Hertz rate);
SampleRange samples_of_second(std::size_t k, std::size_t n, Hertz rate);

/// ECG, one factor a second, 0 to 1: a clean ECG has its slopes in few samples, noise has them everywhere. With d the difference over 10 ms in
/// the three seconds around, the measure is (mean |d|)^2 / mean d^2: 2/pi = 0.64 for Gaussian noise, 0.1 to 0.3 for a clean ECG.
std::vector<float> ecg_noise_factor(std::span<const float> conditioned, Hertz rate);

/// Pulse, one factor a second, 0 to 1: how well the five seconds around repeat themselves (repetition.hpp), 0.2 or less being noise and 0.7 or more
/// clean.
std::vector<float> pulse_noise_factor(std::span<const float> conditioned, Hertz rate);

}  // namespace pulsewright::condition_stage
