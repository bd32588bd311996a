#include <algorithm>
#include <cmath>

#include "3_beats/ecg/ecg_judge.hpp"
#include "3_beats/ecg/ecg_track.hpp"
#include "3_beats/pulse/pulse_judge.hpp"
#include "3_beats/pulse/pulse_wave.hpp"
#include "elementary/elementary.hpp"
#include "pulsewright/beats.hpp"
#include "unreadable.hpp"

namespace pulsewright {

using namespace beats_stage;
namespace {

// As much to either side as the whole-file detectors see beyond a stretch of theirs.
constexpr Seconds margin{45.0};

// The samples of all signals from `first` on.
struct Excerpt {
  std::size_t first = 0;
  std::vector<std::span<const float>> values;
};

Excerpt excerpt_around(const std::vector<Signal>& signals, Span stretch) {
  const Hertz rate = signals[0].rate;
  const auto size = static_cast<double>(signals[0].values.size());
  const auto inside = [&](Seconds time) {
    return static_cast<std::size_t>(std::clamp(samples_in(time - signals[0].start, rate), 0.0, size));
  };
  Excerpt excerpt;
  excerpt.first = inside(stretch.start - margin);
  const std::size_t last = std::max(excerpt.first, inside(stretch.end + margin));
  for (const Signal& signal : signals)
    excerpt.values.push_back(std::span{signal.values}.subspan(excerpt.first, last - excerpt.first));
  return excerpt;
}

// Keeps of the whole function what lies in the stretch.
void keep_stretch(DetectionTrace& trace, const std::vector<float>& whole, Seconds start, Span stretch) {
  const auto size = static_cast<double>(whole.size());
  const double from = std::clamp(std::ceil(samples_in(stretch.start - start, trace.rate)), 0.0, size);
  const double to = std::clamp(std::ceil(samples_in(stretch.end - start, trace.rate)), from, size);
  trace.start = start + Seconds{from / trace.rate.value()};
  trace.function.assign(whole.begin() + static_cast<std::ptrdiff_t>(from),
                        whole.begin() + static_cast<std::ptrdiff_t>(to));
  std::erase_if(trace.candidates, [stretch](const TracedCandidate& c) { return !stretch.contains(c.time); });
}

DetectionTrace ecg_trace(const Excerpt& excerpt, Seconds start, Hertz rate, Span stretch, const EcgOptions& options) {
  std::vector<EcgTrack> tracks;
  for (const std::span<const float> values : excerpt.values) {
    EcgTracker tracker{rate};
    tracks.push_back(tracker.empty_track());
    tracker.push(values, tracks.back());
    tracker.finish(tracks.back());
  }
  std::vector<std::size_t> resumed = restarts(excerpt.values, rate);
  for (std::size_t& at : resumed) at /= static_cast<std::size_t>(tracks[0].step);

  DetectionTrace trace;
  trace.rate = tracks[0].rate;
  for (const EcgCandidate& c : judge_ecg(tracks, resumed, options)) {
    const Seconds time = start + Seconds{static_cast<double>(c.at) / trace.rate.value()};
    const double strength = static_cast<double>(c.strength);
    trace.candidates.push_back(
        {time, strength, strength / elementary::exp(static_cast<double>(c.to_level)), c.log_odds, c.verdict});
  }
  std::vector<float> amplitude = tracks[0].narrow;
  for (float& value : amplitude) value = std::sqrt(value);
  keep_stretch(trace, amplitude, start, stretch);
  return trace;
}

DetectionTrace pulse_trace(const Excerpt& excerpt, Seconds start, Hertz rate, Span stretch,
                           const PulseOptions& options) {
  std::vector<PulsePolarity> polarities(excerpt.values.size());
  for (std::size_t k = 0; k < polarities.size(); ++k) polarities[k].learn(excerpt.values[k], rate);
  const std::vector<float> wave = upright_wave(excerpt.values, rate, polarities);

  DetectionTrace trace;
  trace.rate = rate;
  for (const PulseCandidate& c : judge_pulse(wave, rate, restarts(excerpt.values, rate), options)) {
    const Seconds time = start + Seconds{static_cast<double>(c.at) / rate.value()};
    const double rise = static_cast<double>(c.rise);
    trace.candidates.push_back(
        {time, rise, rise / elementary::exp(static_cast<double>(c.rise_to_level)), c.log_odds, c.verdict});
  }
  keep_stretch(trace, wave, start, stretch);
  return trace;
}

}  // namespace

DetectionTrace detection_trace(const ChosenSignals& chosen, Span stretch, const FindOptions& options) {
  if (chosen.signals.empty()) throw Error{ErrorCode::contract, "detection_trace: no signal was chosen"};
  check_same_grid(chosen.signals, "detection_trace");
  const Excerpt excerpt = excerpt_around(chosen.signals, stretch);
  if (excerpt.values[0].empty() || !(stretch.start < stretch.end)) return {};
  const Hertz rate = chosen.signals[0].rate;
  const Seconds start = chosen.signals[0].start + time_of(SampleIndex{static_cast<std::int64_t>(excerpt.first)}, rate);
  return chosen.kind == ChannelKind::ecg ? ecg_trace(excerpt, start, rate, stretch, options.ecg)
                                         : pulse_trace(excerpt, start, rate, stretch, options.pulse);
}

}  // namespace pulsewright
