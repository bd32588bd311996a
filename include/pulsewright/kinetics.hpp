/// How quickly a heart follows a change of effort: on and off kinetics, recovery, drift.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "pulsewright/phases.hpp"

namespace pulsewright {

/// The curve level + size (1 - e^(-(t - start) / tau)) + slope (t - start) through windowed rates, beats/min. Averaging over windows makes its size a little
/// larger than that of the rate itself.
struct FittedCurve {
  Seconds start, tau{1.0};
  double level_bpm = 0, size_bpm = 0, slope_bpm_per_s = 0;

  [[nodiscard]] double at(Seconds time) const;
};

/// An exponential course r(t) = level + size (1 - e^(-t / tau)) fitted to one phase, from half a window after its start on, so that no window reaches over it.
struct TimeConstant {
  Seconds tau;
  Seconds low;  ///< 95 % interval, residuals as correlated as their windows overlap
  Seconds high;
  BeatsPerMinute change;  ///< size; negative when the rate falls
  double explained = 0;   ///< share of the variance
  FittedCurve curve;      ///< to be drawn over the course
};

struct PhaseKinetics {
  std::size_t phase = 0;  ///< position in the list of phases
  bool rising = true;
  std::optional<TimeConstant> fit;
  std::string reason;  ///< why there is none
};

/// Fits every phase into which the rate changes by 15 beats/min or more. A time constant is given only when the fit deserves it: at least 60 s, four fifths of
/// them measured, two time constants in view, 90 % of the variance explained, and an interval within 30 % of the value.
/// A bout of four minutes or more may drift: a slope is fitted beside the exponential.
[[nodiscard]] std::vector<PhaseKinetics> fit_kinetics(std::span<const EffortCell> cells, Seconds window,
                                                      std::span<const Phase> phases);

/// How far the rate fell after the last bout of work.
struct Recovery {
  Seconds stop;  ///< end of the last bout
  std::optional<BeatsPerMinute> at_stop;
  std::optional<BeatsPerMinute> after_one_minute, after_two_minutes;
  std::optional<BeatsPerMinute> first_minute_fall, second_minute_fall;
  bool stood_still = true;  ///< false: a cool-down followed, so that the fall says as much about its pace
  std::vector<Reason> reasons;
};

/// The rate at the stop is the line through the last 20 s before it, carried on to it; those one and two minutes later are the line through the 20 s about
/// each. Windows that reach over the stop are left out. Nothing when no bout ends inside the session. A fall has no value where its rates
/// are not measured.
[[nodiscard]] std::optional<Recovery> find_recovery(std::span<const EffortCell> cells, Seconds window,
                                                    std::span<const Phase> phases);

/// Slow rise (or fall) of the rate in the longest bout of work, once settled.
struct Drift {
  std::size_t phase = 0;
  Span where;  ///< after the third minute of the bout, when it has settled (common practice)
  double bpm_per_10_min = 0;
  double low = 0, high = 0;  ///< 95 % interval
};

/// Nothing when no bout lasts six minutes.
[[nodiscard]] std::optional<Drift> find_drift(std::span<const EffortCell> cells, Seconds window,
                                              std::span<const Phase> phases);

}  // namespace pulsewright
