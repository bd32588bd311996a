#include "complex_size.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "3_beats/local_amplitude.hpp"

namespace pulsewright::beats_stage {
namespace {

// A complex lies within this of its peak.
constexpr Seconds reach{0.060};
// A heart-rate meter does not respond to complexes of 0.15 mV or to pulses of 10 ms, half the height of which is over after 5 ms (ANSI/AAMI EC13 [from memory]). In the first
// signals of the development records the running median is 0.45 mV and 12 ms at least (12 ms are pacemaker spikes).
constexpr float lowest_mv = 0.17F;
constexpr Seconds narrowest{0.008};
// Beats to either side over which the median is taken.
constexpr std::size_t median_reach = 12;

}  // namespace

ComplexSize complex_size(std::span<const float> values, double position, Hertz rate) {
  const auto size = static_cast<std::ptrdiff_t>(values.size());
  const auto peak = static_cast<std::ptrdiff_t>(std::lround(position));
  const auto around = static_cast<std::ptrdiff_t>(std::lround(samples_in(reach, rate)));
  const std::ptrdiff_t first = std::clamp<std::ptrdiff_t>(peak - around, 0, size);
  const std::ptrdiff_t last = std::clamp<std::ptrdiff_t>(peak + around + 1, first, size);
  if (peak < first || peak >= last) return {};
  const std::span<const float> complex =
      values.subspan(static_cast<std::size_t>(first), static_cast<std::size_t>(last - first));
  const auto [low, high] = std::minmax_element(complex.begin(), complex.end());
  const float ends = 0.5F * (complex.front() + complex.back());
  const float half = 0.5F * (values[static_cast<std::size_t>(peak)] + ends);
  const float sign = values[static_cast<std::size_t>(peak)] >= ends ? 1.0F : -1.0F;
  const auto over = [&](std::ptrdiff_t i) { return sign * (values[static_cast<std::size_t>(i)] - half); };
  // Where the flank crosses half the height, between two samples.
  const auto crossing = [&](std::ptrdiff_t step) {
    std::ptrdiff_t i = peak;
    while (i + step >= first && i + step < last && over(i + step) > 0) i += step;
    if (i + step < first || i + step >= last) return static_cast<double>(std::abs(i - peak));
    const double inside = static_cast<double>(over(i)), outside = static_cast<double>(over(i + step));
    const double share = inside > outside ? inside / (inside - outside) : 0.0;
    return static_cast<double>(std::abs(i - peak)) + share;
  };
  return {*high - *low, Seconds{(crossing(-1) + crossing(1)) / rate.value()}};
}

std::optional<float> millivolts_per(const std::string& unit) {
  if (unit == "mV") return 1.0F;
  if (unit == "V") return 1e3F;
  if (unit == "uV" || unit == "\u00b5V" || unit == "\u03bcV") return 1e-3F;
  return std::nullopt;
}

void reject_no_complexes(std::vector<Beat>& candidates, const std::vector<ComplexSize>& sizes) {
  std::vector<float> heights, widths;
  std::vector<bool> is_beat;
  heights.reserve(sizes.size());
  widths.reserve(sizes.size());
  is_beat.reserve(sizes.size());
  for (std::size_t k = 0; k < sizes.size(); ++k) {
    heights.push_back(sizes[k].height);
    widths.push_back(static_cast<float>(sizes[k].half_width.value()));
    is_beat.push_back(candidates[k].verdict == BeatVerdict::accepted);
  }
  const std::vector<float> height = beat_level(heights, is_beat, median_reach);
  const std::vector<float> width = beat_level(widths, is_beat, median_reach);
  for (std::size_t k = 0; k < sizes.size(); ++k) {
    if (is_beat[k] && (height[k] < lowest_mv || width[k] < static_cast<float>(narrowest.value())))
      candidates[k].verdict = BeatVerdict::unreadable;
  }
}

}  // namespace pulsewright::beats_stage
