/// Stage 4: the shape of ECG beats -> labels, which feed the verdicts on intervals.
#pragma once

#include <span>

#include "pulsewright/beats.hpp"
#include "pulsewright/condition.hpp"

namespace pulsewright {

/// Similarity of two waves is 2 x.y / (x.x + y.y): 1 for the same wave, less for another form or another size.
struct ShapeOptions {
  double same_shape = 0.80;  ///< from which two beats have one shape
  double other = 0.50;       ///< below which, to every usual shape, an early beat is ventricular
  double strange = 0.30;     ///< below which any beat is
  double early = 0.86;       ///< an interval below this share of the median of those around it is early
  double regular = 0.08;  ///< in a rhythm that scatters by less than this share, an early beat of a usual shape is told
  double sudden = 0.90;   ///< and below this share of the interval before: breathing shortens them step by step
};

/// Labels the accepted beats of an ECG that have no label yet: `normal`, `ventricular` or `supraventricular`. Each is to be read with "-like": a rule about shape and
/// time, no diagnosis.
///
/// Beats are grouped by the similarity of a quarter of a second around the R peak of the first signal. A group is usual when it holds one beat in thirty and less than a
/// third of them are early, or when it is much like the largest such group. Beats outside the usual groups are ventricular when their group is mostly early (half of it), or
/// when their wave is as strange as the options say; early beats of a usual shape are supraventricular where the rhythm is regular and the interval shortens at once. Beats
/// in a train of fewer than 20, beats whose wave is not whole (gaps, ends), and trains without a usual shape stay unlabelled. It does not find ventricular beats in long
/// runs, or those that look like the usual ones, nor atrial beats in an irregular rhythm or after the first of a run, and calls an aberrant atrial beat ventricular.
/// Thresholds were set on the development records of the MIT-BIH Arrhythmia Database, `sudden` also on healthy people who sit (Glasgow University ECG database, development
/// subjects).
[[nodiscard]] BeatTrain label_by_shape(BeatTrain train, std::span<const Signal> signals,
                                       const ShapeOptions& options = {});

/// `find_beats`, the beats of an ECG labelled by shape. The causal form has no labels: a shape is usual or not only in hindsight.
[[nodiscard]] BeatTrain find_and_label_beats(const Recording& recording, const ChosenSignals& chosen,
                                             const FindOptions& options = {});

}  // namespace pulsewright
