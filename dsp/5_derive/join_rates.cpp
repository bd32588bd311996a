#include <algorithm>
#include <cmath>
#include <utility>

#include "pulsewright/rate.hpp"

namespace pulsewright {
namespace {

/// Rates this close speak of the same heart (the contract's confidence is about the same distance).
constexpr double near_bpm = 5.0;
/// Beats that the spectrum confirms time the heart more exactly than it does, from this confidence on. Set on the development recordings at rest.
constexpr double sure_of_beats = 0.8;

/// What the track says of one window.
struct TrackAnswer {
  double rate = 0, low = 0, high = 0, confidence = 0;
};

/// The mean over the track's windows inside this one; where none is, the one whose middle is nearest, if it is within a step.
std::optional<TrackAnswer> answer_of(const RateTrack& track, const Span& window) {
  constexpr double rounding_s = 1e-9;
  const double step = track_step.value();
  const auto first = static_cast<std::int64_t>(std::ceil((window.start.value() - rounding_s) / step));
  const auto last = static_cast<std::int64_t>(std::floor((window.end - track_window).value() / step + rounding_s));
  const double middle = 0.5 * (window.start + window.end - track_window).value();
  std::int64_t from = first, to = last;
  if (from > to) from = to = std::lround(middle / step);
  from = std::max<std::int64_t>(from, 0);
  to = std::min(to, static_cast<std::int64_t>(track.points.size()) - 1);
  TrackAnswer sum;
  double count = 0.0;
  for (std::int64_t k = from; k <= to; ++k) {
    const TrackPoint& point = track.points[static_cast<std::size_t>(k)];
    if (!point.rate || std::abs(point.window.start.value() - middle) > window.length().value() + step) continue;
    sum.rate += point.rate->value();
    sum.low += point.low->value();
    sum.high += point.high->value();
    sum.confidence += *point.confidence;
    count += 1.0;
  }
  // As with beats, more than half of the window must be readable.
  if (count == 0.0 || 2.0 * count < static_cast<double>(to - from + 1)) return std::nullopt;
  return TrackAnswer{sum.rate / count, sum.low / count, sum.high / count, sum.confidence / count};
}

/// Share of windows at which a cadence that coincides is worth a warning.
constexpr double worth_a_warning = 0.1;

void warn_of_cadence(const RateTrack& track, Warnings& warnings) {
  const auto locked =
      std::count_if(track.points.begin(), track.points.end(), [](const TrackPoint& p) { return p.at_cadence; });
  if (static_cast<double>(locked) < worth_a_warning * static_cast<double>(track.points.size()) || locked == 0) return;
  warnings.push_back(
      {"rate_at_cadence", "In " + std::to_string(locked) + " of " + std::to_string(track.points.size()) +
                              " windows heart rate and cadence (or its half or double) coincide: there the "
                              "spectrum cannot tell one from the other."});
}

}  // namespace

RateSeries join_rates(RateSeries from_beats, const RateTrack& track) {
  RateSeries joined = std::move(from_beats);
  bool any_spectrum = false;
  for (RateWindow& window : joined.windows) {
    const std::optional<TrackAnswer> answer = answer_of(track, window.window);
    if (!answer) continue;
    const bool agree = window.rate && std::abs(window.rate->value() - answer->rate) <= near_bpm;
    if (agree && *window.confidence >= std::min(answer->confidence, sure_of_beats)) continue;
    if (answer->confidence < joined.options.least_confidence) {
      const Span span = window.window;
      window = RateWindow{};
      window.window = span;
      continue;
    }
    window.rate = BeatsPerMinute{answer->rate};
    window.low = BeatsPerMinute{answer->low};
    window.high = BeatsPerMinute{answer->high};
    window.confidence = answer->confidence;
    window.method = RateMethod::spectrum;
    any_spectrum = true;
  }
  const bool none =
      std::none_of(joined.windows.begin(), joined.windows.end(), [](const RateWindow& w) { return w.rate; });
  std::erase_if(joined.warnings, [none](const Warning& w) { return w.code == "no_rate" && !none; });
  if (none && !joined.windows.empty() &&
      std::none_of(joined.warnings.begin(), joined.warnings.end(),
                   [](const Warning& w) { return w.code == "no_rate"; })) {
    joined.warnings.push_back(
        {"no_rate", "No window has a rate that can be trusted, from beats or from the spectrum."});
  }
  joined.warnings.insert(joined.warnings.end(), track.warnings.begin(), track.warnings.end());
  if (!any_spectrum) return joined;
  warn_of_cadence(track, joined.warnings);
  if (!track.motion_used) {
    joined.warnings.push_back(
        {"no_motion_channel",
         "Some rates come from the spectrum alone, without a motion channel: in steady exercise a "
         "cadence may have been taken for the heart."});
  }
  return joined;
}

RateSeries heart_rate(const BeatTrain& train, const Intervals& intervals, const std::optional<RateTrack>& track,
                      const RateOptions& options) {
  RateSeries rates = rate_over_windows(train, intervals, options);
  return track ? join_rates(std::move(rates), *track) : rates;
}

}  // namespace pulsewright
