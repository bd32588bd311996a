/// Stored samples -> samples on a uniform grid.
#pragma once

#include <vector>

#include "pulsewright/recording.hpp"

namespace pulsewright::condition_stage {

/// Samples at `start + i / rate`; NaN where nothing was recorded.
struct Grid {
  Seconds start;
  std::vector<float> values;
};

/// Puts a channel on the uniform grid of its nominal rate. Without `times` the samples are there already. With them, a grid point between two
/// recorded samples is interpolated linearly when no more than `bridge` is missing between them, and is NaN otherwise; the grid starts at the
/// first time and ends at the last.
/// Throws Error{contract} when `times` and samples differ in number, or times do not increase strictly, or span more than the grid can hold.
Grid uniform_grid(const Channel& channel, Seconds bridge);

}  // namespace pulsewright::condition_stage
