#include "breathing_modulations.hpp"

#include <algorithm>
#include <cmath>

namespace pulsewright {

namespace {

constexpr double longest_interval_s = 2.5;

BeatSeries intervals_of(const std::vector<Beat>& beats) {
  BeatSeries series;
  for (std::size_t i = 1; i < beats.size(); ++i) {
    const double interval = (beats[i].time - beats[i - 1].time).value();
    if (interval > longest_interval_s) continue;
    series.time_s.push_back(beats[i].time.value());
    series.value.push_back(interval);
  }
  return series;
}

/// Lowest and highest sample of a wave; nothing when one was not recorded or there are too few to tell.
struct Extent {
  double lowest = 0, highest = 0;
};

std::optional<Extent> extent_of(const Channel& channel, Seconds from, Seconds to) {
  constexpr std::int64_t fewest = 4;
  const std::int64_t first = channel.sample_at(from).value(), last = channel.sample_at(to).value();
  if (last - first < fewest) return std::nullopt;
  const auto begin = channel.samples.begin() + static_cast<std::ptrdiff_t>(first);
  const auto end = channel.samples.begin() + static_cast<std::ptrdiff_t>(last + 1);
  if (std::any_of(begin, end, [](float v) { return std::isnan(v); })) return std::nullopt;
  const auto [lowest, highest] = std::minmax_element(begin, end);
  return Extent{*lowest, *highest};
}

void add_waves(const std::vector<Beat>& beats, const Channel& channel, std::vector<BeatSeries>& all) {
  BeatSeries height, level;
  for (std::size_t i = 1; i + 1 < beats.size(); ++i) {
    const Seconds before = beats[i].time - beats[i - 1].time, after = beats[i + 1].time - beats[i].time;
    if (std::max(before, after).value() > longest_interval_s) continue;
    const auto extent = extent_of(channel, beats[i].time - 0.5 * before, beats[i].time + 0.5 * after);
    if (!extent) continue;
    height.time_s.push_back(beats[i].time.value());
    height.value.push_back(extent->highest - extent->lowest);
    level.value.push_back(0.5 * (extent->highest + extent->lowest));
  }
  level.time_s = height.time_s;
  all.push_back(std::move(height));
  all.push_back(std::move(level));
}

}  // namespace

std::vector<BeatSeries> breathing_modulations(const std::vector<Beat>& beats,
                                              std::span<const Channel* const> channels) {
  std::vector<BeatSeries> all{intervals_of(beats)};
  for (const Channel* channel : channels)
    if (!channel->samples.empty()) add_waves(beats, *channel, all);
  return all;
}

}  // namespace pulsewright
