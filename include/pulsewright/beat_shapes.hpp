/// Stage 4: the shape of ECG beats -> labels, which feed the verdicts on intervals.
#pragma once

#include <span>

#include "pulsewright/beats.hpp"
#include "pulsewright/condition.hpp"

namespace pulsewright {

struct ShapeOptions {
  double same_shape = 0.80;  ///< similarity from which two beats have one shape; 1 is the same wave
  double early = 0.86;       ///< an interval below this share of those around it is early
  double regular =
      0.08;  ///< intervals around scatter by less than this share where an early beat can be told from an irregular rhythm
};

/// Labels the accepted beats of an ECG that have no label yet: `normal`, `ventricular` (another shape than the usual ones, and early or of a shape that is mostly
/// early) or `supraventricular` (a usual shape, early in a regular rhythm). "Like" is understood: a rule about shape and time, no diagnosis.
///
/// Shapes are grouped as they come, by similarity 2 x.y / (x.x + y.y) of a quarter of a second around the R peak on the first signal, over shifts of up to 10 ms. A
/// group is usual when most of its beats are not early and it holds at least one beat in thirty, or is like the largest. Beats without 20 others, whose wave is not
/// whole (gaps, ends), or in a rhythm without a usual shape stay unlabelled. It does not find ventricular beats that look like the usual ones, blocked atrial beats, or
/// fusion, and calls an aberrant atrial beat ventricular. Thresholds were set on the development records of the MIT-BIH Arrhythmia Database.
[[nodiscard]] BeatTrain label_by_shape(BeatTrain beats, std::span<const Signal> signals,
                                       const ShapeOptions& options = {});

}  // namespace pulsewright
