/// What one session says beyond its time account: phases, load, recovery, and how far each figure moves with the spread of the maximum.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "pulsewright/effort.hpp"
#include "pulsewright/kinetics.hpp"
#include "pulsewright/load.hpp"
#include "pulsewright/phases.hpp"

namespace pulsewright {

/// A figure with its 95 % interval, as the spread of the maximum makes it: over `likely_maxima`. Both ends are the value when the maximum was measured.
struct Ranged {
  double value = 0;
  double low = 0;
  double high = 0;
};

/// The highest mean rate over a stated time.
struct PeakEffort {
  BeatsPerMinute rate;
  Span where;
  std::optional<double> reserve_percent;
};

/// How long something lasted beside common practice of 5 to 10 min.
enum class UsualLength { none, shorter, usual, longer };

[[nodiscard]] const char* to_string(UsualLength length);

/// Warm-up and cool-down beside common practice: each 5 to 10 min, the cool-down about as long as the warm-up.
struct Easing {
  Seconds warm_up{0}, cool_down{0};
  UsualLength warm_up_length = UsualLength::none, cool_down_length = UsualLength::none;
  bool about_equal = false;  ///< the shorter lasts at least two thirds of the longer
  bool abrupt_stop = false;  ///< work went straight over into rest
  bool end_seen = true;      ///< false: the recording ends in work
};

/// Perceived exertion set against what was measured.
struct ExertionComparison {
  std::optional<std::size_t>
      phase;  ///< nothing: of the whole session, set against its work bouts (without any, against all of it)
  int exertion = least_exertion;
  Intensity said = Intensity::very_light;
  Intensity measured = Intensity::very_light;                                             ///< of the mean rate
  Intensity measured_low = Intensity::very_light, measured_high = Intensity::very_light;  ///< over the likely maxima
  /// Two categories or more between what was said and all that the measurement may have been.
  bool far_apart = false;
};

struct SessionOptions {
  EffortOptions effort;
  Seconds peak_window{30.0};
  PhaseOptions phases;
  std::vector<PhaseMark> marks;  ///< empty: phases are found from the rate
  std::optional<IntensityScheme> scheme;
  std::optional<int> exertion;  ///< perceived, of the session
  std::string activity;         ///< what was done, for people
};

struct SessionEffort {
  Effort effort;
  SessionOptions options;
  std::vector<EffortCell> cells;  ///< the rate course that everything is counted from

  // The same figures as in `effort`, with their intervals.
  std::optional<Ranged> mean_reserve_percent;
  std::optional<Ranged> in_target_s;
  std::optional<Ranged> moderate_or_harder_s;
  std::optional<double> moderate_or_harder_percent;  ///< of the whole duration, unmeasured time included
  std::optional<Span>
      longest_moderate;  ///< longest stretch at moderate or harder without a break; unmeasured time breaks it
  std::optional<Span> longest_in_target;
  std::optional<PeakEffort> peak;

  std::optional<Load> load;
  std::optional<Ranged> impulse_men, impulse_women, weighted_minutes;

  /// Time in each category of the user's scheme, then what lies below its first; with the unmeasured time they sum to the duration.
  std::vector<std::int64_t> scheme_us;

  std::vector<Phase> phases;
  std::vector<PhaseKinetics> kinetics;
  std::optional<Recovery> recovery;
  std::optional<Drift> drift;
  Easing easing;
  std::vector<ExertionComparison> exertion;
  Warnings prompts;             ///< things to look at and talk about; none is a diagnosis
  std::vector<Reason> reasons;  ///< for what is absent here; `effort` has its own
};

/// Phases are a matter of a session. Longer recordings have none in reports: looking for them takes time as the square of the length.
inline constexpr Seconds longest_session{3.0 * 3600.0};

/// Everything about one session. Throws what `effort` throws, and Error{usage} for a peak window or exertion out of range.
///
/// Prompts, with their rules: `long_above_own_ceiling` (a minute or more in all), `above_maximum` (with whether the signal looks like a sensor fault: confidence below
/// 0.7 or a jump of 20 beats/min between windows; or real: half a minute in a row, confidence 0.9 or more, no jump), `no_rise_with_work` (a marked bout of two minutes, or an
/// activity of five, and never 20 % of reserve), `late_recovery` (after a stop into rest still above the lower end of the target two
/// minutes later), `exertion_far_apart`.
[[nodiscard]] SessionEffort study_session(const RateSeries& rates, const Person& person,
                                          const SessionOptions& options = {});

/// Per cent of reserve of a rate; nothing without a resting rate and a maximum.
[[nodiscard]] std::optional<double> reserve_percent(const Effort& effort, BeatsPerMinute rate);

}  // namespace pulsewright
