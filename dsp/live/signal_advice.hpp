/// What the last seconds of a signal look like to someone who could do something about it.
#pragma once

#include <span>

#include "pulsewright/live.hpp"

namespace pulsewright::live_stage {

/// Judges the newest seconds of `recent` (samples at `rate`, NaN where there was none) beside those
/// before. `measured`: whether there is a rate.
[[nodiscard]] SignalAdvice judge_signal(std::span<const float> recent, ChannelKind kind, Hertz rate, bool measured);

}  // namespace pulsewright::live_stage
