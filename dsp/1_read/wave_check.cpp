#include "wave_check.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "channel_kind.hpp"

namespace pulsewright::reading {

namespace {

/// Fast enough for any wave, so that only name and unit decide.
constexpr Hertz any_wave{100};

bool is_heart(ChannelKind kind) { return kind == ChannelKind::ecg || kind == ChannelKind::pulse; }

/// What keeps a channel from being a wave; empty when nothing does, or when it is something else altogether.
std::string obstacle(const Channel& channel) {
  if (channel.kind != ChannelKind::other) return {};
  if (is_heart(kind_of_channel(channel.name, channel.unit, any_wave)))
    return fmt::format("'{}' comes at {:.4g} Hz, too slow for the shape of a beat (10 Hz)", channel.name,
                       channel.rate.value());
  if (channel.unit == "bpm") return fmt::format("'{}' is a rate that was worked out already, not a wave", channel.name);
  return {};
}

/// Whether beats might be looked for in it.
bool may_be_wave(const Channel& channel) {
  return is_heart(channel.kind) || (channel.kind == ChannelKind::other && obstacle(channel).empty());
}

}  // namespace

void note_missing_wave(Recording& recording) {
  const auto& channels = recording.channels;
  if (std::any_of(channels.begin(), channels.end(), may_be_wave)) return;
  std::string all;
  for (const Channel& channel : channels)
    if (const std::string why = obstacle(channel); !why.empty()) all += (all.empty() ? "" : "; ") + why;
  if (!all.empty()) recording.warnings.push_back({"no_wave", "there is nothing to find beats in: " + all});
}

}  // namespace pulsewright::reading
