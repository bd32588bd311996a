#include "rate_signals.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace pulsewright::beats_stage {
namespace {

/// Twice the fastest rate is 7.7 Hz; 25 Hz holds that with room for the filter's slope.
constexpr Hertz wanted_rate{25.0};
constexpr Hertz lowest_rate{16.0};

bool is_motion(ChannelKind kind) { return kind == ChannelKind::acceleration || kind == ChannelKind::gyro; }

void check_position(const Recording& recording, std::size_t i, bool fits, const char* wanted) {
  if (i < recording.channels.size() && fits) return;
  throw Error{ErrorCode::usage,
              i < recording.channels.size()
                  ? fmt::format("{}: channel {} '{}' is of kind {}, not {}", recording.provenance.input, i + 1,
                                recording.channels[i].name, to_string(recording.channels[i].kind), wanted)
                  : fmt::format("{}: channel {} does not exist", recording.provenance.input, i + 1)};
}

std::vector<std::size_t> pulse_channels(const Recording& recording, const TrackOptions& options) {
  std::vector<std::size_t> found = options.channels;
  for (const std::size_t i : found) {
    const bool exists = i < recording.channels.size();
    const ChannelKind kind = exists ? recording.channels[i].kind : ChannelKind::other;
    check_position(recording, i, exists && (kind == ChannelKind::pulse || kind == ChannelKind::other), "pulse");
  }
  if (!found.empty()) return found;
  for (const bool by_shape : {false, true}) {
    for (std::size_t i = 0; i < recording.channels.size(); ++i) {
      const Channel& channel = recording.channels[i];
      if (by_shape ? channel.kind == ChannelKind::other && guess_kind(channel) == ChannelKind::pulse
                   : channel.kind == ChannelKind::pulse)
        found.push_back(i);
    }
    if (!found.empty()) return found;
  }
  throw Error{ErrorCode::usage, recording.provenance.input + ": no optical pulse channel to follow the rate in"};
}

std::vector<std::size_t> motion_channels(const Recording& recording, const TrackOptions& options) {
  std::vector<std::size_t> found;
  if (options.motion) {
    for (const std::size_t i : *options.motion) {
      const bool fits = i < recording.channels.size() && is_motion(recording.channels[i].kind);
      check_position(recording, i, fits, "acceleration or gyro");
    }
    return *options.motion;
  }
  for (std::size_t i = 0; i < recording.channels.size(); ++i) {
    if (is_motion(recording.channels[i].kind)) found.push_back(i);
  }
  return found;
}

/// The signal of a channel that was chosen and conditioned as a pulse already; else none.
const Signal* conditioned(const ChosenSignals& chosen, std::size_t channel, const TrackOptions& options) {
  const auto place = std::find(chosen.channels.begin(), chosen.channels.end(), channel);
  if (options.streaming || chosen.kind != ChannelKind::pulse || place == chosen.channels.end()) return nullptr;
  return &chosen.signals[static_cast<std::size_t>(place - chosen.channels.begin())];
}

/// The channel between the baseline and the top of a pulse, whatever it measures, at its own rate.
Signal band_of(Channel channel, const TrackOptions& options) {
  channel.kind = ChannelKind::pulse;
  if (!options.streaming) return condition(channel, options.condition);
  Signal signal = uniform_signal(channel, options.condition);
  StreamingConditioner conditioner{ChannelKind::pulse, signal.rate, options.condition};
  std::vector<float> filtered;
  conditioner.push(signal.values, filtered);
  signal.values = std::move(filtered);
  return signal;
}

/// The signal at the grid's times, by straight lines between its samples: on the signal's own grid where the rates divide.
std::vector<float> on_grid(const Signal& signal, Hertz rate, Seconds start, std::size_t size) {
  std::vector<float> values(size, std::numeric_limits<float>::quiet_NaN());
  const double offset = samples_in(start - signal.start, signal.rate);
  const double stride = signal.rate / rate;
  for (std::size_t i = 0; i < size; ++i) {
    const double at = offset + stride * static_cast<double>(i);
    if (!(at >= 0.0)) continue;
    const auto low = static_cast<std::size_t>(at);
    const float share = static_cast<float>(at - static_cast<double>(low));
    if (low + 1 < signal.values.size()) {
      values[i] = share == 0.0F ? signal.values[low]
                                : signal.values[low] + share * (signal.values[low + 1] - signal.values[low]);
    } else if (low < signal.values.size() && share == 0.0F) {
      values[i] = signal.values[low];
    }
  }
  return values;
}

}  // namespace

RateSignals gather_rate_signals(const Recording& recording, const ChosenSignals& chosen, const TrackOptions& options) {
  const std::vector<std::size_t> pulse = pulse_channels(recording, options);
  const std::vector<std::size_t> motion = motion_channels(recording, options);
  RateSignals signals;
  for (const std::size_t i : pulse) {
    if (recording.channels[i].rate < lowest_rate) continue;
    const Signal* ready = conditioned(chosen, i, options);
    const Signal own = ready ? Signal{} : band_of(recording.channels[i], options);
    const Signal& band = ready ? *ready : own;
    if (signals.pulse.empty()) {
      const double factor = std::max(1.0, std::round(band.rate / wanted_rate));
      signals.rate = band.rate / factor;
      signals.start = band.start;
      const auto count = static_cast<double>(band.values.size());
      signals.pulse.push_back(
          on_grid(band, signals.rate, signals.start, static_cast<std::size_t>(std::ceil(count / factor))));
    } else {
      signals.pulse.push_back(on_grid(band, signals.rate, signals.start, signals.size()));
    }
  }
  if (signals.pulse.empty()) return signals;
  for (const std::size_t i : motion) {
    const Channel& channel = recording.channels[i];
    if (channel.samples.empty() || channel.rate < lowest_rate) continue;
    std::vector<float> values = on_grid(band_of(channel, options), signals.rate, signals.start, signals.size());
    for (float& v : values) {
      if (std::isnan(v)) v = 0.0F;
    }
    (channel.kind == ChannelKind::gyro ? signals.rotation : signals.acceleration).push_back(std::move(values));
  }
  return signals;
}

}  // namespace pulsewright::beats_stage
