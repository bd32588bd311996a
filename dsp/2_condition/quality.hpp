/// How far each second of a signal can be trusted.
#pragma once

#include <span>
#include <vector>

#include "gaps.hpp"
#include "pulsewright/condition.hpp"

namespace pulsewright::condition_stage {

/// Judges every second.
///
/// `recorded`: the samples before filtering, gaps filled. `conditioned`: after filtering, as long. `gaps`: the runs that were filled and are
/// gaps. Neither may hold NaN. A last second that is not full is judged on what there is.
///
/// index = (share of the second that was recorded) x (0 when flat) x (0.5 when clipped) x noise factor; fault is the first of gap (more than a
/// tenth missing), flat, clipped, noise (factor below a half) that holds.
std::vector<SecondQuality> judge_seconds(std::span<const float> recorded, std::span<const float> conditioned,
                                         const std::vector<MissingRun>& gaps, ChannelKind kind, Hertz rate);

}  // namespace pulsewright::condition_stage
