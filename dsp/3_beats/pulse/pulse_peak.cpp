#include "pulse_peak.hpp"

#include <algorithm>
#include <cmath>

#include "3_beats/fiducial.hpp"

namespace pulsewright::beats_stage {
namespace {

// The parabola is laid over this much of the crest to either side.
constexpr Seconds crest_reach{0.020};

}  // namespace

double systolic_peak_near(std::span<const float> wave, std::size_t at, Hertz rate) {
  const auto reach = std::max<std::size_t>(1, static_cast<std::size_t>(std::lround(samples_in(crest_reach, rate))));
  const std::size_t first = at > reach ? at - reach : 0;
  const std::size_t last = std::min(wave.size(), at + reach + 1);
  const auto position = extreme_position(wave.subspan(first, last - first), true, reach);
  return position ? static_cast<double>(first) + *position : static_cast<double>(at);
}

}  // namespace pulsewright::beats_stage
