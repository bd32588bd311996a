/// Stage 5a: beats and intervals -> heart rate over windows.
#pragma once

#include <optional>
#include <vector>

#include "pulsewright/beats.hpp"
#include "pulsewright/clean.hpp"
#include "pulsewright/rate_track.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright {

/// Which path produced a rate.
enum class RateMethod { none, beats, spectrum, device };

[[nodiscard]] const char* to_string(RateMethod method);

/// Heart rate over one window [start, end). All optional fields are present or absent together, but that a device's own rate may come without interval
/// and confidence.
struct RateWindow {
  Span window;
  std::optional<BeatsPerMinute> rate;
  std::optional<BeatsPerMinute> low;  ///< 95 % interval
  std::optional<BeatsPerMinute> high;
  std::optional<double> confidence;  ///< probability that `rate` lies within 5 beats/min of the truth
  RateMethod method = RateMethod::none;
};

struct RateOptions {
  Seconds window{8.0};
  Seconds step{2.0};
  /// A rate less sure than this is not given. Below one half it is more likely wrong than right; 0 gives every rate there is.
  double least_confidence = 0.5;
};

struct RateSeries {
  std::vector<RateWindow> windows;  ///< full windows only, from 0 s on
  RateOptions options;
  Seconds duration;  ///< of the recording
  Warnings warnings;
  Provenance provenance;
};

/// Rate over windows from accepted beats: 60 (N - 1) / (last - first) over the N accepted beats in the window. The formula is never bent: a
/// fault in the beats shows in the interval and the confidence, or in there being no rate.
///
/// `low`, `high` and `confidence` come from one distribution of the true rate, a sum over the possible errors e of the beat count:
///   p(e) Normal(60 (N - 1 + e) / (last - first), s).
///   s: the timing error of the first and the last beat (6 ms ECG, 10 ms pulse, one sample / sqrt 12 for beats from a file; the whole
///      displacement where the beat bounds an interval judged early or misplaced), carried through the formula.
///   p(e): independent errors added up. Each beat is false with 1 - its confidence, and a beat as doubtful is as likely to have been missed;
///      both count 1/20 of that where the intervals on both sides are normal, because a false or missed beat rarely leaves two normal intervals
///      (the injection study finds at least 95 % of them), and 1/5 where the worse one is early, a pause or misplaced, because those displace a beat. Each missed or extra beat that was flagged is real with probability 0.95, and a gap between
///      two beats hides as many as the surroundings suggest. Each other flagged interval may be wrong by one beat either way, 0.3 % each.
///   `low` and `high` are its 2.5 and 97.5 % points, `confidence` its share within 5 beats/min of `rate`.
///
/// A window has no rate when it has fewer than three beats; when more than half of it is unreadable, gap, or lies before the first or after the last beat
/// of the train by more than the longest interval allowed; or when `confidence` is below `least_confidence`: a window of 8 s with one missed
/// beat is such a window.
/// A recording shorter than one window has no windows and a warning.
/// Throws Error{contract} when window or step are not positive and finite, or when `intervals` are not those between the accepted beats of `train`.
[[nodiscard]] RateSeries rate_over_windows(const BeatTrain& train, const Intervals& intervals,
                                           const RateOptions& options = {});

/// Rates from beats and from the spectrum as one series: each window has whichever can be trusted more.
///
/// The rate from beats stands where the track says the same within 5 beats/min and is less sure, and where the track has nothing to say. Everywhere else the track's rate is taken, averaged
/// over its windows inside this one, `method` being `spectrum`; or the window is empty when that is less sure than `least_confidence`. Beats that the spectrum does not
/// confirm were right in 7 % or less of such windows of the development recordings, the spectrum in 88 to 100 %.
/// Warns where the rate coincides with the cadence, and of rates from the spectrum without a motion channel.
[[nodiscard]] RateSeries join_rates(RateSeries from_beats, const RateTrack& track);

/// What the program gives: rates over windows from beats, joined with the track beside them where there is one.
[[nodiscard]] RateSeries heart_rate(const BeatTrain& train, const Intervals& intervals,
                                    const std::optional<RateTrack>& track, const RateOptions& options = {});

/// Rate from beat to beat: one value per normal interval, at its end.
struct InstantRate {
  Seconds time;
  BeatsPerMinute rate;
};
[[nodiscard]] std::vector<InstantRate> instant_rates(const Intervals& intervals);

}  // namespace pulsewright
