#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

#include "pulsewright/clean.hpp"
#include "pulsewright/live.hpp"
#include "signal_advice.hpp"

namespace pulsewright {
namespace {

/// The window of a live rate, and how far back the beats reach that say what is usual.
constexpr Seconds rate_window{8.0};
constexpr Seconds context{32.0};
/// Samples of the signal that its quality is judged beside.
constexpr Seconds judged{10.0};

}  // namespace

struct LiveChannel::State {
  ChannelKind kind;
  Hertz rate;
  double least_confidence;
  BeatStream stream;
  std::vector<Beat> beats;    // of the last `context`, decided
  std::vector<float> recent;  // of the last `judged`
  std::vector<Beat> fresh;    // of one push
  std::int64_t seen = 0;      // samples
  std::int64_t next_second = 1;

  [[nodiscard]] std::int64_t samples_until(std::int64_t second) const {
    return static_cast<std::int64_t>(std::ceil(static_cast<double>(second) * rate.value() - 1e-9));
  }

  /// The stretch of beats that ends where decisions end, as a recording of its own.
  [[nodiscard]] RateWindow rate_now() const {
    const Seconds decided = time_of(SampleIndex{seen}, rate) - stream.look_ahead();
    RateWindow none;
    none.window = {decided - rate_window, decided};
    if (decided < rate_window) return none;
    const Seconds length = std::min(context, rate_window * std::floor(decided / rate_window));
    const Seconds start = decided - length;
    BeatTrain train;
    train.duration = length;
    train.source = kind == ChannelKind::ecg ? BeatSource::ecg : BeatSource::pulse;
    for (Beat beat : beats) {
      if (beat.time < start || beat.time >= decided) continue;
      beat.time -= start;
      if (beat.foot) *beat.foot -= start;
      train.candidates.push_back(beat);
    }
    for (const Span& span : stream.unreadable()) {
      const Span part{std::max(span.start, start) - start, std::min(span.end, decided) - start};
      if (part.start < part.end) train.unreadable.push_back(part);
    }
    RateOptions options;
    options.window = rate_window;
    options.step = rate_window;
    options.least_confidence = least_confidence;
    const RateSeries rates = rate_over_windows(train, clean(train), options);
    if (rates.windows.empty()) return none;
    RateWindow last = rates.windows.back();
    last.window = none.window;
    return last;
  }

  void take(std::span<const float> samples, std::vector<LiveEvent>& out) {
    fresh.clear();
    stream.push({&samples, 1}, fresh);
    seen += static_cast<std::int64_t>(samples.size());
    keep(out);
    recent.insert(recent.end(), samples.begin(), samples.end());
    const auto most = static_cast<std::size_t>(std::ceil(samples_in(judged, rate)));
    if (recent.size() > 2 * most) recent.erase(recent.begin(), recent.end() - static_cast<std::ptrdiff_t>(most));
  }

  void keep(std::vector<LiveEvent>& out) {
    for (const Beat& beat : fresh) {
      beats.push_back(beat);
      if (beat.verdict == BeatVerdict::accepted) out.push_back({beat, std::nullopt});
    }
    const Seconds oldest = time_of(SampleIndex{seen}, rate) - stream.look_ahead() - context - rate_window;
    const auto first = std::find_if(beats.begin(), beats.end(), [&](const Beat& beat) { return beat.time >= oldest; });
    if (first - beats.begin() > 256) beats.erase(beats.begin(), first);
  }

  [[nodiscard]] LiveSecond second_now() const {
    LiveSecond second;
    second.at = Seconds{static_cast<double>(next_second)};
    second.window = rate_now();
    const auto most = static_cast<std::size_t>(std::ceil(samples_in(judged, rate)));
    second.advice = live_stage::judge_signal(std::span{recent}.last(std::min(most, recent.size())), kind, rate,
                                             second.window.rate.has_value());
    return second;
  }
};

LiveChannel::LiveChannel(ChannelKind kind, Hertz rate, const FindOptions& options, double least_confidence)
    : state_(std::make_unique<State>(
          State{kind, rate, least_confidence, BeatStream{kind, rate, 1, options}, {}, {}, {}, 0, 1})) {}
LiveChannel::~LiveChannel() = default;
LiveChannel::LiveChannel(LiveChannel&&) noexcept = default;
LiveChannel& LiveChannel::operator=(LiveChannel&&) noexcept = default;

void LiveChannel::push(std::span<const float> samples, std::vector<LiveEvent>& out) {
  State& s = *state_;
  while (!samples.empty()) {
    const std::int64_t until = s.samples_until(s.next_second);
    const auto count = std::min(samples.size(), static_cast<std::size_t>(until - s.seen));
    s.take(samples.first(count), out);
    samples = samples.subspan(count);
    if (s.seen < until) return;
    out.push_back({{}, s.second_now()});
    ++s.next_second;
  }
}

void LiveChannel::finish(std::vector<LiveEvent>& out) {
  state_->fresh.clear();
  state_->stream.finish(state_->fresh);
  state_->keep(out);
}

Seconds LiveChannel::look_ahead() const { return state_->stream.look_ahead(); }

}  // namespace pulsewright
