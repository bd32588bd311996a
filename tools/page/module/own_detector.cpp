#include "own_detector.hpp"

#include <algorithm>
#include <cmath>
#include <deque>
#include <limits>

namespace pulsewright::page {
namespace {

constexpr float missing = std::numeric_limits<float>::quiet_NaN();

/// Mean of the recorded samples within `half` on either side.
std::vector<float> moving_average(const std::vector<float>& values, std::size_t half) {
  std::vector<float> smoothed(values.size(), missing);
  double sum = 0;
  std::size_t count = 0;
  const auto add = [&](float value, int sign) {
    if (std::isnan(value)) return;
    sum += sign * static_cast<double>(value);
    count += static_cast<std::size_t>(sign);
  };
  for (std::size_t i = 0; i < std::min(half, values.size()); ++i) add(values[i], 1);
  for (std::size_t i = 0; i < values.size(); ++i) {
    if (i + half < values.size()) add(values[i + half], 1);
    if (i > half) add(values[i - half - 1], -1);
    if (!std::isnan(values[i]) && count > 0) smoothed[i] = static_cast<float>(sum / static_cast<double>(count));
  }
  return smoothed;
}

/// The highest value within `half` on either side, by a queue of falling values.
std::vector<float> moving_maximum(const std::vector<float>& values, std::size_t half) {
  std::vector<float> highest(values.size(), missing);
  std::deque<std::size_t> falling;
  std::size_t next = 0;
  for (std::size_t i = 0; i < values.size(); ++i) {
    for (; next < values.size() && next <= i + half; ++next) {
      if (std::isnan(values[next])) continue;
      while (!falling.empty() && values[falling.back()] <= values[next]) falling.pop_back();
      falling.push_back(next);
    }
    while (!falling.empty() && falling.front() + half < i) falling.pop_front();
    if (!falling.empty()) highest[i] = values[falling.front()];
  }
  return highest;
}

}  // namespace

OwnDetection detect(const Signal& signal, const OwnDetector& detector) {
  OwnDetection seen;
  const auto samples = [&](Seconds time) {
    return static_cast<std::size_t>(std::llround(std::max(0.0, time.value()) * signal.rate.value()));
  };
  seen.smoothed = moving_average(signal.values, samples(detector.smooth) / 2);
  seen.threshold = moving_maximum(seen.smoothed, samples(surroundings));
  for (float& level : seen.threshold) level *= static_cast<float>(detector.threshold);
  std::size_t top = 0;
  bool above = false;
  const auto end_stretch = [&] {
    above = false;
    const Seconds time = signal.start + Seconds{static_cast<double>(top) / signal.rate.value()};
    if (seen.beats.empty() || !(time - seen.beats.back() < detector.refractory)) seen.beats.push_back(time);
  };
  for (std::size_t i = 0; i < seen.smoothed.size(); ++i) {
    const bool now = seen.smoothed[i] > seen.threshold[i];  // false in a gap
    if (now && (!above || seen.smoothed[i] > seen.smoothed[top])) top = i;
    if (above && !now) end_stretch();
    above = now;
  }
  if (above) end_stretch();
  return seen;
}

}  // namespace pulsewright::page
