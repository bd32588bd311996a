/// Stage 7: intervals and variability of one train against those of another.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "pulsewright/agreement.hpp"
#include "pulsewright/paired_agreement.hpp"
#include "pulsewright/variability.hpp"

namespace pulsewright {

/// Measures of variability that are compared, by their keys, which end in their units.
inline constexpr std::array<const char*, 6> compared_measures{"mean_nn_ms", "sdnn_ms",       "rmssd_ms",
                                                              "sdsd_ms",    "pnn50_percent", "mean_hr_bpm"};

/// One measure of variability, both ways.
struct MeasureAgreement {
  std::string measure;  ///< one of `compared_measures`
  std::optional<double> reference, test;
  std::optional<double> difference, difference_percent;  ///< test minus reference; of the reference
};

struct IntervalAgreement {
  BeatAgreement beats;                  ///< missed and extra beats, timing
  std::size_t reference_intervals = 0;  ///< between neighbouring reference beats
  std::vector<PairedValue> pairs;       ///< in ms, intervals bounded by matched beats that are neighbours on both sides
  PairedAgreement intervals;            ///< of those
  std::vector<MeasureAgreement>
      measures;  ///< all of `compared_measures`, in their order; each side from its own cleaned intervals
  bool at_rest =
      true;  ///< false: the reference's rate moves or is fast, and the measures compare with none taken at rest
  Warnings warnings;  ///< `not_at_rest`, `pulse_transit`; of `compare_intervals` also `unaligned_records`, `left_out`
};

/// Intervals beat by beat, and variability of each side. A constant delay of the test cancels out of intervals; where one side is an ECG and the other a pulse, the delay changes from
/// beat to beat with breathing and pressure, and short-term measures of the pulse come out larger (warning `pulse_transit`). Of variability measures one recording gives one pair each:
/// their agreement over people is for a study to say.
[[nodiscard]] IntervalAgreement interval_agreement(const BeatTrain& reference, const BeatTrain& test,
                                                   const MatchOptions& options = {});

}  // namespace pulsewright
