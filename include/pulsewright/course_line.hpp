/// Courses of heart rate drawn in single lines of characters, for a terminal.
#pragma once

#include <string>

#include "pulsewright/class_session.hpp"
#include "pulsewright/rate.hpp"

namespace pulsewright {

/// The course over the whole duration in sixty columns of equal length: blocks rise from the lowest to the highest mean of a column, a point stands
/// where nothing was measured. Its label gives that range in whole beats/min and the duration. Rates that differ by less than 10 beats/min are drawn in a
/// range of ten, so that a steady heart looks steady. Empty when nothing was measured. UTF-8.
[[nodiscard]] std::string course_line(const RateSeries& rates);

/// A line for each member with a rate, over the member's own duration, all on one scale. Empty when there are none.
[[nodiscard]] std::string course_lines(const ClassComparison& comparison);

}  // namespace pulsewright
