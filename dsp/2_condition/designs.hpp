/// Which filters a kind of channel gets; the same for whole files and streams.
#pragma once

#include "pulsewright/condition.hpp"

namespace pulsewright::condition_stage {

/// The filters for a kind, as one cascade. An edge that does not lie below half the rate is left out: there is nothing above it to remove, or
/// nothing below it to keep.
///
/// Baseline: second-order high-pass at the kind's corner (ECG also for kinds that are neither). Pulse: also a second-order low-pass.
Sections conditioning_filter(ChannelKind kind, Hertz rate, const ConditionOptions& options);

}  // namespace pulsewright::condition_stage
