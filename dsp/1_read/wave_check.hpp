/// Says why a recording that names heart channels has none in which beats could be found.
#pragma once

#include "pulsewright/recording.hpp"

namespace pulsewright::reading {

/// Adds the warning `no_wave` when channels are named as an ECG or a pulse, or are in beats/min, and none of the recording's channels can be a wave:
/// each is too slow for a beat's shape, or is a rate that was worked out already. Nothing when any channel may be one.
void note_missing_wave(Recording& recording);

}  // namespace pulsewright::reading
