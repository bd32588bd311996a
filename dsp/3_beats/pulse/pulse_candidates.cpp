#include "pulse_candidates.hpp"

#include <algorithm>
#include <cmath>

namespace pulsewright::beats_stage {
namespace {

// Slopes are taken over this much, so that they compare at any sampling rate.
constexpr Seconds slope_span{0.04};

}  // namespace

std::vector<PulseCandidate> propose_pulse_candidates(std::span<const float> wave, Hertz rate, Seconds spacing) {
  const auto apart = static_cast<std::size_t>(std::lround(samples_in(spacing, rate)));
  std::vector<std::size_t> peaks;
  for (std::size_t i = 1; i + 1 < wave.size(); ++i) {
    if (!(wave[i] > wave[i - 1] && wave[i] >= wave[i + 1])) continue;
    while (!peaks.empty() && i - peaks.back() < apart && wave[peaks.back()] < wave[i]) peaks.pop_back();
    if (peaks.empty() || i - peaks.back() >= apart) peaks.push_back(i);
  }

  const auto reach = static_cast<std::size_t>(std::lround(samples_in(longest_rise, rate)));
  const auto span = std::max<std::size_t>(1, static_cast<std::size_t>(std::lround(samples_in(slope_span, rate))));
  const float per_second = static_cast<float>(rate.value() / static_cast<double>(span));
  std::vector<PulseCandidate> candidates;
  candidates.reserve(peaks.size());
  std::size_t previous = 0;
  for (const std::size_t at : peaks) {
    PulseCandidate c;
    c.at = at;
    std::size_t foot = at;
    for (std::size_t i = at; i > previous && at - i < reach; --i) {
      if (wave[i - 1] < wave[foot]) foot = i - 1;
    }
    c.rise = wave[at] - wave[foot];
    for (std::size_t i = foot + span; i <= at; ++i)
      c.steepness = std::max(c.steepness, (wave[i] - wave[i - span]) * per_second);
    if (foot + span > at) c.steepness = c.rise * per_second;
    candidates.push_back(c);
    previous = at;
  }
  return candidates;
}

}  // namespace pulsewright::beats_stage
