#include "pulse_peak.hpp"

#include <algorithm>
#include <cmath>

#include "fiducial.hpp"

namespace pulsewright::beats_stage {
namespace {

// The parabola is laid over this much of the crest to either side.
constexpr Seconds crest_reach{0.020};

// Chosen by hand. Not calibrated: on noise without any pulse they give values near one.
constexpr double slope = 0.6;
constexpr double chosen_shift = 1.0;
constexpr double not_chosen_shift = -1.5;
constexpr double most = 0.999;

}  // namespace

double systolic_peak_near(std::span<const float> wave, std::size_t at, Hertz rate) {
  const auto reach = std::max<std::size_t>(1, static_cast<std::size_t>(std::lround(samples_in(crest_reach, rate))));
  const std::size_t first = at > reach ? at - reach : 0;
  const std::size_t last = std::min(wave.size(), at + reach + 1);
  const auto position = extreme_position(wave.subspan(first, last - first), true, reach);
  return position ? static_cast<double>(first) + *position : static_cast<double>(at);
}

double pulse_confidence(const PulseCandidate& candidate) {
  const double x = slope * candidate.log_odds + (candidate.beat ? chosen_shift : not_chosen_shift);
  return std::min(most, 1.0 / (1.0 + std::exp(-x)));
}

}  // namespace pulsewright::beats_stage
