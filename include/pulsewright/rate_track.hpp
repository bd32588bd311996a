/// Stage 3, beside the beats: Recording -> RateTrack. Heart rate from the spectrum of optical pulse signals, followed over time; it still answers
/// where motion hides the single beats.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "pulsewright/beats.hpp"
#include "pulsewright/condition.hpp"
#include "pulsewright/recording.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright {

/// What one window says, with the windows around it (causal form: before it).
struct TrackPoint {
  Span window;
  std::optional<BeatsPerMinute> rate;  ///< nothing when no channel was readable in more than half of the window
  std::optional<BeatsPerMinute> low;   ///< 95 % interval
  std::optional<BeatsPerMinute> high;
  std::optional<double> confidence;  ///< probability that `rate` lies within 5 beats/min of the truth
  double agreement =
      0;  ///< share of the path's probability within 5 beats/min of `rate`: how sure the path is of itself
  double concentration =
      0;  ///< share of the cleaned spectrum's power at `rate` and twice it, over some windows: how much of a line there is
  std::optional<BeatsPerMinute> cadence;  ///< strongest rhythm of the motion channels; nothing when there is none
  bool at_cadence = false;  ///< the rate cannot be told from the cadence, its half or its double by frequency
};

struct RateTrack {
  std::vector<TrackPoint> points;  ///< one every 2 s; point k covers [2 k, 2 k + 8) s
  Seconds duration;                ///< of the recording
  Seconds delay;                   ///< causal form: an answer comes this long after the end of its window
  bool motion_used = false;
  Warnings warnings;
  Provenance provenance;
};

struct TrackOptions {
  std::vector<std::size_t> channels;  ///< positions of pulse channels; empty: every one
  std::optional<std::vector<std::size_t>>
      motion;  ///< positions of motion channels; nothing: every acceleration and gyro channel
  /// The causal form: filters look back only, and the path is that of the windows so far.
  bool streaming = false;
  ConditionOptions condition;
  std::size_t threads =
      1;  ///< above 1, what windows show of a heart and a stride is worked out beside the path; results are the same
};

/// Length and distance of a track's windows.
inline constexpr Seconds track_window{8.0};
inline constexpr Seconds track_step{2.0};

/// Follows the heart rate through the spectra of pulse signals in windows of 8 s.
///
/// From each pulse channel is taken what a linear filter of the motion channels explains (least squares over 24 s, 17 taps over 0.64 s a channel,
/// ridge 1 %); the power spectra of what is left, and of the channel itself weighted down where the motion has power, are added over channels, with the
/// power at twice the rate; the rate is the median of the posterior of a hidden Markov model on a grid of 1 beat/min, in whole-file form given the whole recording.
/// Published ideas behind it: Wiener weighting of pulse spectra by acceleration and hidden Markov tracking are common practice in the field.
///
/// Without motion channels a stride, the rhythm of arms, legs or pedals, is looked for in the pulse itself: one hidden Markov model follows the heart and the stride at once,
/// each explaining its lines of the spectrum by least squares; the stride's lines are then taken out, and the rate is followed near the heart that was found. A recording that
/// begins or ends at rest shows which line is the heart; in one that does not, a stride may be taken for it: then no rate is sure, intervals are wide, and `join_rates` warns.
///
/// Rates between 30 and 230 beats/min.
/// Signals below 16 Hz, or shorter than a window: no points and a warning. Throws Error{usage} when there is no pulse channel, or a position is not one of
/// the right kind.
[[nodiscard]] RateTrack track_rate(const Recording& recording, const TrackOptions& options = {});
/// The same beside signals that `choose_signals` gave for the same form and conditioning: what they hold is not conditioned again.
[[nodiscard]] RateTrack track_rate(const Recording& recording, const ChosenSignals& chosen,
                                   const TrackOptions& options = {});

}  // namespace pulsewright
