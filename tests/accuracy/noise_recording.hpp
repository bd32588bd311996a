/// Recordings without a heart, for setting how sure an answer may be.
#pragma once

#include "pulsewright/recording.hpp"

namespace accuracy {

/// Four minutes of noise at 50 Hz in a pulse channel: white, summed (brown) or held for a tenth of a second in turn. Odd seeds have the noise of an
/// accelerometer beside it.
[[nodiscard]] pulsewright::Recording noise_recording(unsigned seed);
inline constexpr unsigned noise_recordings = 24;  ///< seeds 1 to this

}  // namespace accuracy
