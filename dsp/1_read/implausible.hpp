/// Samples that no sensor can have given.
#pragma once

#include "pulsewright/recording.hpp"

namespace pulsewright::reading {

/// Makes samples beyond the plausible missing ones, with a warning a channel (`implausible_samples`): infinities, and
/// values that lie further from the channel's middle 98 % than 2^24 times the width of these. A channel whose middle 98 %
/// have no width keeps all that is finite. `file` is how messages name it.
void take_out_implausible(Recording& recording, const std::string& file);

}  // namespace pulsewright::reading
