#include <algorithm>
#include <cmath>

#include "pulsewright/condition.hpp"

namespace pulsewright {

namespace {
/// Share of slope energy in the steepest tenth of the samples above which a channel is an ECG, and above which it may be a pulse.
constexpr double ecg_share = 0.75;
constexpr double pulse_share = 0.35;
}  // namespace

ChannelKind guess_kind(const Channel& channel) {
  Channel as_pulse = channel;
  as_pulse.kind = ChannelKind::other;
  const Signal signal = condition(as_pulse);
  const auto lag = static_cast<std::size_t>(std::max(1.0, std::round(0.02 * signal.rate.value())));
  std::vector<float> slopes;
  for (std::size_t i = 0; i + lag < signal.values.size(); ++i) {
    const float d = signal.values[i + lag] - signal.values[i];
    if (std::isfinite(d)) slopes.push_back(d * d);
  }
  if (slopes.size() < 10) return ChannelKind::other;
  std::sort(slopes.begin(), slopes.end());
  double all = 0.0, steep = 0.0;
  for (std::size_t i = 0; i < slopes.size(); ++i) {
    all += static_cast<double>(slopes[i]);
    if (i >= slopes.size() - slopes.size() / 10) steep += static_cast<double>(slopes[i]);
  }
  if (!(all > 0.0)) return ChannelKind::other;
  if (steep / all > ecg_share) return ChannelKind::ecg;
  return steep / all > pulse_share ? ChannelKind::pulse : ChannelKind::other;
}

}  // namespace pulsewright
