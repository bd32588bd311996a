#include "quality.hpp"

#include <algorithm>
#include <cmath>

#include "noise_factor.hpp"
#include "pulsewright/median.hpp"

namespace pulsewright::condition_stage {

namespace {

/// More missing than this makes a second a gap.
constexpr double most_missing = 0.1;
/// A second that moves less than this share of the median second is flat. ADC noise of an open input stays below, a pause between beats does not.
constexpr double flat_share = 0.01;
/// A rail is real when it holds at least this many samples, and this many times as many as the band of 2 % of the range next to it: a wave
/// that merely turns round at its highest value has at most 2.5 times as many there, a clipped one piles up.
constexpr std::size_t fewest_at_rail = 6;
constexpr double rail_pile = 3.0;
constexpr double rail_band = 0.02;
/// A second is clipped when it has at least this many samples at a rail in a row.
constexpr std::size_t clipped_run = 3;
/// What clipping costs: beats are still there, their height is not.
constexpr float clipped_factor = 0.5F;
/// Below, noise is named as the fault.
constexpr float noise_limit = 0.5F;

struct SecondRange {
  float lowest;
  float highest;
};

/// Samples by which the range of a second is judged: its own, and for a last second that is not full those before it as well.
SampleRange window_of_second(std::size_t k, std::size_t n, Hertz rate) {
  SampleRange r = samples_of_second(k, n, rate);
  const auto full = static_cast<std::size_t>(rate.value());
  if (r.last == n && r.last - r.first < full) r.first = n > full ? n - full : 0;
  return r;
}

std::vector<SecondRange> ranges(std::span<const float> x, std::size_t seconds, Hertz rate) {
  std::vector<SecondRange> result(seconds);
  for (std::size_t k = 0; k < seconds; ++k) {
    const SampleRange r = window_of_second(k, x.size(), rate);
    float low[4], high[4];
    std::fill_n(low, 4, x[r.first]);
    std::fill_n(high, 4, x[r.first]);
    std::size_t i = r.first;
    for (; i + 4 <= r.last; i += 4) {
      for (std::size_t part = 0; part < 4; ++part) {
        const float v = x[i + part];
        low[part] = v < low[part] ? v : low[part];
        high[part] = v > high[part] ? v : high[part];
      }
    }
    for (; i < r.last; ++i) {
      low[0] = std::min(low[0], x[i]);
      high[0] = std::max(high[0], x[i]);
    }
    result[k] = {*std::min_element(low, low + 4), *std::max_element(high, high + 4)};
  }
  return result;
}

/// Where the signal is stuck at one end of its range: for each second the longest run there.
std::vector<std::size_t> runs_at_rail(std::span<const float> x, const std::vector<SecondRange>& seconds, Hertz rate,
                                      float rail, float band_edge, bool upper) {
  std::vector<std::size_t> longest(seconds.size(), 0);
  std::size_t at_rail = 0;
  std::size_t beside = 0;
  for (std::size_t k = 0; k < seconds.size(); ++k) {
    const bool reaches = upper ? seconds[k].highest >= band_edge : seconds[k].lowest <= band_edge;
    if (!reaches) continue;
    const SampleRange r = samples_of_second(k, x.size(), rate);
    std::size_t run = 0;
    for (std::size_t i = r.first; i < r.last; ++i) {
      if (x[i] == rail) {
        ++at_rail;
        longest[k] = std::max(longest[k], ++run);
        continue;
      }
      run = 0;
      beside += static_cast<std::size_t>(upper ? x[i] >= band_edge : x[i] <= band_edge);
    }
  }
  const bool real =
      at_rail >= fewest_at_rail && static_cast<double>(at_rail) >= rail_pile * static_cast<double>(beside);
  if (!real) std::fill(longest.begin(), longest.end(), 0);
  return longest;
}

float median_range(const std::vector<SecondRange>& seconds) {
  std::vector<float> widths;
  for (const SecondRange& s : seconds) {
    if (s.highest > s.lowest) widths.push_back(s.highest - s.lowest);
  }
  if (widths.empty()) return 0.0F;
  return upper_median(std::span(widths));
}

/// Samples of each second that fall into a gap.
std::vector<std::size_t> missing_by_second(const std::vector<MissingRun>& gaps, std::size_t seconds, std::size_t n,
                                           Hertz rate) {
  std::vector<std::size_t> missing(seconds, 0);
  for (const MissingRun& gap : gaps) {
    for (auto k = static_cast<std::size_t>(static_cast<double>(gap.first) / rate.value()); k < seconds; ++k) {
      const SampleRange r = samples_of_second(k, n, rate);
      if (r.first >= gap.last) break;
      const std::size_t from = std::max(r.first, gap.first);
      const std::size_t to = std::min(r.last, gap.last);
      if (to > from) missing[k] += to - from;
    }
  }
  return missing;
}

}  // namespace

std::vector<SecondQuality> judge_seconds(std::span<const float> recorded, std::span<const float> conditioned,
                                         const std::vector<MissingRun>& gaps, ChannelKind kind, Hertz rate) {
  const std::size_t n = recorded.size();
  if (n == 0) return {};
  const std::vector<float> noise =
      kind == ChannelKind::pulse ? pulse_noise_factor(conditioned, rate) : ecg_noise_factor(conditioned, rate);
  const std::size_t seconds = noise.size();
  const std::vector<SecondRange> range = ranges(recorded, seconds, rate);
  const std::vector<std::size_t> missing = missing_by_second(gaps, seconds, n, rate);
  const float flat = static_cast<float>(flat_share) * median_range(range);

  float lowest = range.front().lowest;
  float highest = range.front().highest;
  for (const SecondRange& r : range) {
    lowest = std::min(lowest, r.lowest);
    highest = std::max(highest, r.highest);
  }
  const float band = static_cast<float>(rail_band) * (highest - lowest);
  const std::vector<std::size_t> top = runs_at_rail(recorded, range, rate, highest, highest - band, true);
  const std::vector<std::size_t> bottom = runs_at_rail(recorded, range, rate, lowest, lowest + band, false);

  std::vector<SecondQuality> quality(seconds);
  for (std::size_t k = 0; k < seconds; ++k) {
    const SampleRange r = samples_of_second(k, n, rate);
    const float lost = static_cast<float>(missing[k]) / static_cast<float>(r.last - r.first);
    const bool is_flat = range[k].highest - range[k].lowest <= flat;
    const bool is_clipped = std::max(top[k], bottom[k]) >= clipped_run;
    SecondQuality& q = quality[k];
    q.index = is_flat ? 0.0F : (1.0F - lost) * noise[k] * (is_clipped ? clipped_factor : 1.0F);
    if (lost > static_cast<float>(most_missing)) {
      q.fault = QualityFault::gap;
    } else if (is_flat) {
      q.fault = QualityFault::flat;
    } else if (is_clipped) {
      q.fault = QualityFault::clipped;
    } else if (noise[k] < noise_limit) {
      q.fault = QualityFault::noise;
    }
  }
  return quality;
}

}  // namespace pulsewright::condition_stage
