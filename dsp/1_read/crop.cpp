#include "crop.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace pulsewright::reading {

namespace {

/// A time that is this near to a sample's, in samples, is at it: rounding of decimal seconds.
constexpr double same_sample = 1e-6;

/// The first sample of `channel` at or after `time`.
std::size_t first_at_or_after(const Channel& channel, Seconds time) {
  const auto count = static_cast<double>(channel.samples.size());
  if (!channel.times.empty())
    return static_cast<std::size_t>(std::lower_bound(channel.times.begin(), channel.times.end(), time.value()) -
                                    channel.times.begin());
  const double position = std::ceil(samples_in(time - channel.start, channel.rate) - same_sample);
  return static_cast<std::size_t>(std::clamp(position, 0.0, count));
}

template <class T>
void keep(std::vector<T>& values, std::size_t first, std::size_t last) {
  values.erase(values.begin() + static_cast<std::ptrdiff_t>(last), values.end());
  values.erase(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(first));
  values.shrink_to_fit();
}

}  // namespace

void crop(Recording& recording, std::optional<Seconds> start, std::optional<Seconds> end) {
  if (!start && !end) return;
  const Seconds from = start.value_or(Seconds{0});
  const Seconds to = end ? std::min(*end, recording.duration) : recording.duration;
  if (!(from.value() >= 0) || !(from < end.value_or(Seconds{INFINITY})))
    throw Error{
        ErrorCode::usage,
        fmt::format("the stretch from {} s to {} s holds nothing; it starts at 0 s or later and ends after that",
                    from.value(), end.value_or(recording.duration).value())};
  if (from >= recording.duration)
    throw Error{ErrorCode::usage, fmt::format("the stretch starts at {} s; the recording lasts {} s", from.value(),
                                              recording.duration.value())};
  for (Channel& channel : recording.channels) {
    const std::size_t first = first_at_or_after(channel, from);
    const std::size_t last = std::max(first, first_at_or_after(channel, to));
    if (channel.times.empty()) {
      channel.start += time_of(SampleIndex{static_cast<std::int64_t>(first)}, channel.rate);
    } else {
      if (first < channel.times.size()) channel.start = Seconds{channel.times[first]};
      keep(channel.times, first, last);
    }
    keep(channel.samples, first, last);
    channel.skipped += static_cast<std::int64_t>(first);
  }
  recording.duration = to;
}

}  // namespace pulsewright::reading
