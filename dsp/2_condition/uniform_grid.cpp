#include "uniform_grid.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace pulsewright::condition_stage {

namespace {

/// No grid is longer: 2^28 samples are 1 GB and 8.6 days at 360 Hz. A longer one comes from a clock that jumped.
constexpr double longest_grid = 268435456.0;
/// Where fewer samples than one in so many of the grid were recorded, a clock jumped as well, unless the grid is short: 2^23 samples, 6.5 hours at 360 Hz (ours).
constexpr double sparsest = 32.0, short_grid = 8388608.0;

void check_times(const Channel& channel) {
  const std::vector<double>& times = channel.times;
  if (times.size() != channel.samples.size()) {
    throw Error{ErrorCode::contract, fmt::format("channel '{}': {} times for {} samples; there must be one each",
                                                 channel.name, times.size(), channel.samples.size())};
  }
  for (std::size_t i = 0; i < times.size(); ++i) {
    if (!std::isfinite(times[i]) || (i > 0 && !(times[i] > times[i - 1]))) {
      throw Error{ErrorCode::contract,
                  fmt::format("channel '{}': time {} of sample {} is not after the one before; times must increase",
                              channel.name, times[i], i)};
    }
  }
}

}  // namespace

Grid uniform_grid(const Channel& channel, Seconds bridge) {
  if (channel.times.empty() || channel.samples.empty()) return {channel.start, channel.samples};
  check_times(channel);
  const std::vector<double>& times = channel.times;
  const double rate = channel.rate.value();
  const double start = times.front();
  const double steps = std::floor((times.back() - start) * rate + 0.5);
  const double most = std::min(longest_grid, std::max(short_grid, sparsest * static_cast<double>(times.size())));
  if (!(steps < most)) {
    throw Error{
        ErrorCode::contract,
        fmt::format("channel '{}': times from {} to {} s at {} Hz need {} samples, of which {} were recorded; at "
                    "most {} are allowed. Did the clock jump? --start and --end choose a stretch",
                    channel.name, start, times.back(), rate, steps, times.size(), most)};
  }

  Grid grid{Seconds{start},
            std::vector<float>(static_cast<std::size_t>(steps) + 1, std::numeric_limits<float>::quiet_NaN())};
  const double longest_step = bridge.value() + 1.0 / rate;
  // A recorded sample this close to a grid point stands for it even when its neighbour is missing.
  const double close = 0.5 / rate;
  std::size_t next = 0;        // first recorded sample at or after the grid point
  std::ptrdiff_t before = -1;  // last recorded sample before it
  const auto skip_missing = [&] {
    while (next < times.size() && !std::isfinite(channel.samples[next])) ++next;
  };
  skip_missing();
  for (std::size_t k = 0; k < grid.values.size(); ++k) {
    const double t = start + static_cast<double>(k) / rate;
    while (next < times.size() && times[next] < t) {
      before = static_cast<std::ptrdiff_t>(next);
      ++next;
      skip_missing();
    }
    const bool has_after = next < times.size();
    const bool has_before = before >= 0;
    const auto b = static_cast<std::size_t>(has_before ? before : 0);
    if (has_after && has_before && times[next] - times[b] <= longest_step) {
      const double share = (t - times[b]) / (times[next] - times[b]);
      const double low = static_cast<double>(channel.samples[b]);
      grid.values[k] = static_cast<float>(low + share * (static_cast<double>(channel.samples[next]) - low));
    } else if (has_after && times[next] - t <= close && (!has_before || times[next] - t <= t - times[b])) {
      grid.values[k] = channel.samples[next];
    } else if (has_before && t - times[b] <= close) {
      grid.values[k] = channel.samples[b];
    }
  }
  return grid;
}

}  // namespace pulsewright::condition_stage
