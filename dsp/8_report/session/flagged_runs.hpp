/// Doubtful intervals as figures name them.
#pragma once

#include <vector>

#include "8_report/figure/plot.hpp"
#include "8_report/words/words.hpp"
#include "pulsewright/clean.hpp"

namespace pulsewright {

/// Height that `draw_flagged_runs` needs, in px.
inline constexpr int flagged_rows_px = 32;

/// Boxes around runs of neighbouring intervals with the same verdict, from `top_px` down to the names of the verdicts, whose upper row's foot is at
/// `name_px`. Names of neighbouring runs stand in two rows, so that they do not meet.
void draw_flagged_runs(Plot& plot, const std::vector<Interval>& intervals, double top_px, double name_px,
                       const Words& words);

}  // namespace pulsewright
