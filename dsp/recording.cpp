#include "pulsewright/recording.hpp"

#include <algorithm>

namespace pulsewright {

const char* version() { return PULSEWRIGHT_VERSION; }

const char* to_string(ChannelKind kind) {
  switch (kind) {
    case ChannelKind::ecg: return "ecg";
    case ChannelKind::pulse: return "pulse";
    case ChannelKind::acceleration: return "acceleration";
    case ChannelKind::gyro: return "gyro";
    case ChannelKind::respiration: return "respiration";
    case ChannelKind::marker: return "marker";
    case ChannelKind::other: break;
  }
  return "other";
}

Seconds Channel::time_of_sample(SampleIndex i) const {
  if (!times.empty()) return Seconds{times[static_cast<std::size_t>(i.value())]};
  return start + time_of(i, rate);
}

SampleIndex Channel::sample_at(Seconds time) const {
  if (samples.empty()) return SampleIndex{0};
  const SampleIndex last{static_cast<std::int64_t>(samples.size()) - 1};
  if (times.empty()) return std::clamp(nearest_sample(time - start, rate), SampleIndex{0}, last);
  const auto above = std::lower_bound(times.begin(), times.end(), time.value());
  if (above == times.begin()) return SampleIndex{0};
  if (above == times.end()) return last;
  const auto below = above - 1;
  const bool nearer_below = time.value() - *below < *above - time.value();
  return SampleIndex{(nearer_below ? below : above) - times.begin()};
}

}  // namespace pulsewright
