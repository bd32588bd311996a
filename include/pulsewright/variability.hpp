/// Stage 5b: Intervals -> heart-rate variability in the time domain (Task Force of ESC/NASPE 1996, Circulation 93:1043).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "pulsewright/clean.hpp"

namespace pulsewright {

/// Why a measure has no value. `measure` is its JSON key.
struct Reason {
  std::string measure;
  std::string reason;
};

struct VariabilityOptions {
  /// Above this share of flagged intervals no measure is given (common practice: 5 to 20 per cent; ours is 20).
  double most_flagged_percent = 20.0;
  /// A measure needs at least this many normal-to-normal intervals.
  int fewest_intervals = 2;
};

struct Variability {
  int nn_count = 0;          ///< normal-to-normal intervals used
  int difference_count = 0;  ///< pairs of neighbouring NN intervals
  std::optional<double> mean_nn_ms;
  std::optional<double> sdnn_ms;  ///< divides by n - 1
  std::optional<double> rmssd_ms;
  std::optional<double> sdsd_ms;  ///< divides by n - 1
  std::optional<int> nn50_count;
  std::optional<double> pnn50_percent;  ///< of the differences
  std::optional<double> mean_hr_bpm;    ///< 60000 / mean NN
  std::optional<double> min_nn_ms;
  std::optional<double> max_nn_ms;
  std::optional<double> flagged_percent;
  std::vector<Reason> reasons;  ///< one for each absent value
  Warnings warnings;
  Provenance provenance;
};

/// Time-domain measures over the corrected intervals. Differences are taken only between intervals that touch in time and both have a
/// corrected value. A rate that moves by more than 20 % of its mean from minute to minute, or a mean above 100 beats/min, gives the warning
/// `not_at_rest`: the measures are then right but compare with none taken at rest.
[[nodiscard]] Variability variability(const Intervals& intervals, const VariabilityOptions& options = {});

}  // namespace pulsewright
