#include "pulsewright/live_closing.hpp"

#include <algorithm>
#include <cmath>

#include "pulsewright/live.hpp"

namespace pulsewright {
namespace {

/// Rates this close speak of the same heart, as everywhere.
constexpr double near_bpm = 5.0;
/// A second between two that differ belongs to them.
constexpr Seconds joined{2.0};

/// The rate of the window whose middle is nearest, if it is within a step.
std::optional<BeatsPerMinute> rate_at(const RateSeries& rates, Seconds middle) {
  if (rates.windows.empty()) return std::nullopt;
  const Seconds first = 0.5 * (rates.windows.front().window.start + rates.windows.front().window.end);
  const double position = std::round((middle - first) / rates.options.step);
  if (position < 0 || position >= static_cast<double>(rates.windows.size())) return std::nullopt;
  return rates.windows[static_cast<std::size_t>(position)].rate;
}

}  // namespace

LiveClosing close_live_run(const Recording& recording, const Person& person, const AnalyzeOptions& options) {
  LiveClosing closing;
  AnalyzeOptions whole = options;
  whole.find.streaming = false;
  closing.whole = analyze(recording, person, whole);

  const Channel& channel = recording.channels.at(0);
  LiveChannel again{channel.kind, channel.rate, options.find, options.rate.least_confidence};
  std::vector<LiveEvent> events;
  again.push(channel.samples, events);
  again.finish(events);
  BeatTrain shown;
  shown.duration = recording.duration;
  double sum = 0;
  for (const LiveEvent& event : events) {
    if (!event.second) {
      shown.candidates.push_back(event.beat);
      continue;
    }
    const RateWindow& window = event.second->window;
    const auto rate = rate_at(closing.whole.rates, 0.5 * (window.window.start + window.window.end));
    if (!window.rate || !rate) continue;
    const double apart = std::abs(window.rate->value() - rate->value());
    sum += apart;
    ++closing.seconds_compared;
    if (apart <= near_bpm) continue;
    const Span second{event.second->at - Seconds{1.0}, event.second->at};
    if (!closing.rates_apart.empty() && second.start - closing.rates_apart.back().end <= joined)
      closing.rates_apart.back().end = second.end;
    else
      closing.rates_apart.push_back(second);
  }
  if (closing.seconds_compared > 0)
    closing.mean_absolute_difference_bpm = sum / static_cast<double>(closing.seconds_compared);
  closing.beats = match_beats(closing.whole.beats, shown);
  return closing;
}

}  // namespace pulsewright
