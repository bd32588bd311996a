#include <algorithm>
#include <limits>

#include "check_filter.hpp"
#include "gaps.hpp"
#include "pulsewright/condition.hpp"
#include "uniform_grid.hpp"

namespace pulsewright {

Signal uniform_signal(const Channel& channel, const ConditionOptions& options) {
  condition_stage::check_rate(channel.rate, "uniform_signal of channel '" + channel.name + "'");
  condition_stage::Grid grid = condition_stage::uniform_grid(channel, options.bridge);
  Signal signal;
  signal.channel = channel.name;
  signal.kind = channel.kind;
  signal.rate = channel.rate;
  signal.start = grid.start;
  signal.values = std::move(grid.values);
  return signal;
}

}  // namespace pulsewright
