/// How large a recording may be. A recording is held in memory, so what a damaged header or a sparse file promises is checked before
/// anything is allocated.
#pragma once

#include <cstdint>

#include "message.hpp"

namespace pulsewright::reading {

/// Samples of all channels together: 2^30 take 4 GiB. One ECG channel at 250 Hz reaches it after 49 days.
inline constexpr std::int64_t most_samples = std::int64_t{1} << 30;

/// Refuses a recording of `frames` times `per_frame` samples when that is more than `most_samples`. Both at least 0.
inline void check_size(const Place& place, std::int64_t frames, std::int64_t per_frame) {
  if (per_frame > 0 && frames > most_samples / per_frame)
    refuse(place, std::to_string(frames) + " x " + std::to_string(per_frame),
           "holds more than 1073741824 samples (4 GiB in memory), the most one recording may have; split it");
}

}  // namespace pulsewright::reading
