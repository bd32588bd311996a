/// Stage 7: intervals and variability of one train against those of another.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "pulsewright/agreement.hpp"
#include "pulsewright/paired_agreement.hpp"
#include "pulsewright/variability.hpp"

namespace pulsewright {

/// One measure of variability, both ways.
struct MeasureAgreement {
  std::string measure;  ///< its key, which ends in its unit: `rmssd_ms`
  std::optional<double> reference, test;
  std::optional<double> difference, difference_percent;  ///< test minus reference; of the reference
};

struct IntervalAgreement {
  BeatAgreement beats;                  ///< missed and extra beats, timing
  std::size_t reference_intervals = 0;  ///< between neighbouring reference beats
  PairedAgreement intervals;            ///< in ms, those bounded by matched beats that are neighbours on both sides
  std::vector<MeasureAgreement>
      measures;  ///< mean_nn_ms, sdnn_ms, rmssd_ms, sdsd_ms, pnn50_percent, mean_hr_bpm; each side from its own cleaned intervals
  bool at_rest =
      true;  ///< false: the reference's rate moves or is fast, and the measures compare with none taken at rest
  Warnings warnings;  ///< `not_at_rest`, `pulse_transit`
};

/// Intervals beat by beat, and variability of each side. A constant delay of the test cancels out of intervals; where one side is an ECG and the other a pulse, the delay changes from
/// beat to beat with breathing and pressure, and short-term measures of the pulse come out larger (warning `pulse_transit`). Of variability measures one recording gives one pair each:
/// their agreement over people is for a study to say.
[[nodiscard]] IntervalAgreement interval_agreement(const BeatTrain& reference, const BeatTrain& test,
                                                   const MatchOptions& options = {});

}  // namespace pulsewright
