/// What a reader of an effort summary must know besides its numbers.
#pragma once

#include "pulsewright/effort.hpp"

namespace pulsewright {

/// Appends warnings on the maximum, the ceiling, the base of the categories and missing time. All else in `result` is final.
void add_effort_warnings(Effort& result);

}  // namespace pulsewright
