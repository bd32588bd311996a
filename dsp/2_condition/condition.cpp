#include "pulsewright/condition.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "check_filter.hpp"
#include "designs.hpp"
#include "gaps.hpp"
#include "mains_hum.hpp"
#include "quality.hpp"
#include "uniform_grid.hpp"

namespace pulsewright {

namespace {

using condition_stage::Grid;
using condition_stage::MissingRun;

/// Width of the notch: 50 Hz / 30 = 1.7 Hz, wide enough for a mains frequency that strays, narrow enough to ring below the noise.
constexpr double notch_quality = 30.0;

/// Where the hum is, if anywhere. Signals that are low-passed below the mains anyway are not searched.
std::optional<Hertz> hum_of(const Grid& grid, const Channel& channel, const ConditionOptions& options) {
  switch (options.mains) {
    case MainsChoice::none: return std::nullopt;
    case MainsChoice::at_50_hz: return Hertz{50.0};
    case MainsChoice::at_60_hz: return Hertz{60.0};
    case MainsChoice::automatic: break;
  }
  if (channel.kind == ChannelKind::pulse) return std::nullopt;
  return condition_stage::find_mains_hum(grid.values, channel.rate);
}

}  // namespace

Signal condition(const Channel& channel, const ConditionOptions& options) {
  condition_stage::check_rate(channel.rate, fmt::format("condition channel '{}'", channel.name));
  Grid grid = condition_stage::uniform_grid(channel, options.bridge);
  Signal signal;
  signal.channel = channel.name;
  signal.kind = channel.kind;
  signal.unit = channel.unit;
  signal.rate = channel.rate;
  signal.start = grid.start;
  if (grid.values.empty()) return signal;

  // Gaps are filled before filtering and put back afterwards, so that they do not spread.
  const std::vector<MissingRun> missing = condition_stage::find_missing(grid.values);
  const std::vector<MissingRun> gaps =
      condition_stage::fill_missing(grid.values, missing, samples_in(options.bridge, channel.rate));

  Sections filter = condition_stage::conditioning_filter(channel.kind, channel.rate, options);
  const std::optional<Hertz> hum = hum_of(grid, channel, options);
  if (hum && *hum < channel.rate / 2.0) {
    const Sections stop = notch(*hum, notch_quality, channel.rate);
    filter.insert(filter.end(), stop.begin(), stop.end());
    signal.mains = hum;
  }
  signal.values = filter_zero_phase(filter, grid.values);
  signal.quality = condition_stage::judge_seconds(grid.values, signal.values, gaps, channel.kind, channel.rate);

  for (const MissingRun& gap : gaps) {
    std::fill(signal.values.begin() + static_cast<std::ptrdiff_t>(gap.first),
              signal.values.begin() + static_cast<std::ptrdiff_t>(gap.last), std::numeric_limits<float>::quiet_NaN());
    signal.gaps.push_back({grid.start + time_of(SampleIndex{static_cast<std::int64_t>(gap.first)}, channel.rate),
                           grid.start + time_of(SampleIndex{static_cast<std::int64_t>(gap.last)}, channel.rate)});
  }
  return signal;
}

}  // namespace pulsewright
