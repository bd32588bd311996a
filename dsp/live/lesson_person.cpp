#include "pulsewright/clean.hpp"
#include "pulsewright/rate.hpp"
#include "pulsewright/clean.hpp"
#include "pulsewright/lesson.hpp"

namespace pulsewright {
namespace {

/// Beats are kept so long: a count may be typed in some time after it ended.
constexpr Seconds kept{300.0};

}  // namespace

void LessonPerson::take(const LiveEvent& event) {
  if (event.second) return;
  beats_.push_back(event.beat);
  while (beats_.front().time < event.beat.time - kept) beats_.pop_front();
}

RateWindow LessonPerson::rate_over(Span stretch, ChannelKind kind) const {
  BeatTrain train;
  train.duration = stretch.length();
  train.source = kind == ChannelKind::ecg ? BeatSource::ecg : BeatSource::pulse;
  for (Beat beat : beats_) {
    if (!stretch.contains(beat.time)) continue;
    beat.time -= stretch.start;
    beat.foot.reset();
    train.candidates.push_back(beat);
  }
  RateOptions options;
  options.window = options.step = stretch.length();
  const RateSeries rates = rate_over_windows(train, clean(train), options);
  RateWindow window = rates.windows.empty() ? RateWindow{} : rates.windows.front();
  window.window = stretch;
  return window;
}

LessonCount LessonPerson::score(int counted, Span stretch, const std::string& code) const {
  BeatTrain train;
  train.duration = stretch.end;
  train.candidates.assign(beats_.begin(), beats_.end());
  SheetCount count;
  count.code = code;
  count.start = stretch.start;
  count.length = stretch.length();
  count.counted = counted;
  return {score_count(count, rate_over_windows(train, clean(train))), 60.0 / stretch.length().value()};
}

}  // namespace pulsewright
