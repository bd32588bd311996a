/// Cutting a recording to a stretch of time.
#pragma once

#include <optional>

#include "pulsewright/recording.hpp"

namespace pulsewright::reading {

/// Keeps the samples from `start` on and before `end`; times still count from the start of the recording, so `Channel::start` moves and
/// `duration` becomes the end of what is kept. Throws Error{usage} when the stretch is empty, reversed, negative or beyond the recording.
void crop(Recording& recording, std::optional<Seconds> start, std::optional<Seconds> end);

}  // namespace pulsewright::reading
