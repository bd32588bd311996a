#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "3_beats/doubtful_stretches.hpp"
#include "3_beats/fiducial.hpp"
#include "3_beats/unreadable.hpp"
#include "complex_size.hpp"
#include "ecg_confidence.hpp"
#include "ecg_judge.hpp"
#include "ecg_track.hpp"
#include "pulsewright/beats.hpp"

namespace pulsewright {

using namespace beats_stage;
namespace {

// The record is judged in stretches of this core length, each seen with this much more to either side.
constexpr Seconds core_length{900.0};
constexpr Seconds margin{45.0};

// A complex of which less than this is seen to either side of its peak, half of a normal QRS complex of 90 ms, is cut off by the end of the recording.
constexpr Seconds half_complex{0.045};

// One stretch, from conditioned samples [first, last).
struct Stretch {
  std::size_t first, last;
};

std::vector<EcgTrack> track_stretch(std::span<const Signal> signals, const Stretch& stretch) {
  std::vector<EcgTrack> tracks;
  for (const Signal& signal : signals) {
    EcgTracker tracker{signal.rate};
    EcgTrack& track = tracks.emplace_back(tracker.empty_track());
    const std::size_t size = (stretch.last - stretch.first) / static_cast<std::size_t>(track.step) + 1;
    for (auto* values : {&track.shape, &track.narrow, &track.wide}) values->reserve(size);
    tracker.push(std::span{signal.values}.subspan(stretch.first, stretch.last - stretch.first), track);
    tracker.finish(track);
  }
  return tracks;
}

// Track samples of a stretch at which the signals resume after a gap.
std::vector<std::size_t> track_restarts(std::span<const Signal> signals, const Stretch& stretch, std::size_t step) {
  std::vector<std::span<const float>> values;
  for (const Signal& s : signals)
    values.push_back(std::span{s.values}.subspan(stretch.first, stretch.last - stretch.first));
  std::vector<std::size_t> at = restarts(values, signals[0].rate);
  for (std::size_t& sample : at) sample /= step;
  return at;
}

}  // namespace

BeatTrain find_ecg_beats(std::span<const Signal> signals, Seconds duration, const EcgOptions& options) {
  BeatTrain train;
  train.duration = duration;
  train.source = BeatSource::ecg;
  if (signals.empty() || signals[0].values.empty()) {
    train.unreadable.push_back({Seconds{0}, duration});
    train.warnings.push_back({"nothing_readable", "no ECG samples to look for beats in"});
    return train;
  }
  check_same_grid(signals, "find_ecg_beats");
  const Hertz rate = signals[0].rate;
  const Seconds start = signals[0].start;
  const std::size_t size = signals[0].values.size();
  train.unreadable = unreadable_spans(signals, duration);

  // Stretches begin on a track sample, so that the same candidates are seen from both sides of a seam.
  const auto step = static_cast<std::size_t>(EcgTracker{rate}.empty_track().step);
  const auto on_track = [&](Seconds length) {
    return static_cast<std::size_t>(samples_in(length, rate)) / step * step;
  };
  const std::size_t core = std::max(on_track(core_length), step);
  const std::size_t around = on_track(margin);
  std::vector<Polarity> polarities(signals.size());
  std::vector<std::optional<float>> millivolts;
  millivolts.reserve(signals.size());
  for (const Signal& s : signals) millivolts.push_back(millivolts_per(s.unit));
  std::vector<ComplexSize> sizes;
  for (std::size_t core_first = 0; core_first < size; core_first += core) {
    const Stretch stretch{core_first > around ? core_first - around : 0, std::min(size, core_first + core + around)};
    const std::vector<EcgTrack> tracks = track_stretch(signals, stretch);
    const std::vector<JudgedComplex> judged = judge_ecg(tracks, {.form = Form::whole_file,
                                                                 .restarts = track_restarts(signals, stretch, step),
                                                                 .committed = {},
                                                                 .options = options});
    for (std::size_t k = 0; k < signals.size(); ++k) {
      std::vector<std::int64_t> centres;
      for (const JudgedComplex& c : judged) {
        if (c.beat && c.signal == k) centres.push_back(static_cast<std::int64_t>(stretch.first + c.at * step));
      }
      polarities[k].learn(signals[k].values, centres, rate);
    }

    for (const JudgedComplex& c : judged) {
      const std::size_t centre = stretch.first + c.at * step;
      if (centre < core_first || centre >= core_first + core) continue;
      Beat beat;
      const double position =
          r_peak_near(signals[c.signal].values, static_cast<double>(centre), polarities[c.signal].upward(), rate);
      beat.time = start + Seconds{position / rate.value()};
      beat.sample = SampleIndex{std::lround(position)};
      beat.verdict = c.verdict;
      beat.confidence = ecg_confidence(c.log_odds, c.beat);
      const double seen = samples_in(half_complex, rate);
      const bool at_end = position < seen || position > static_cast<double>(size) - 1.0 - seen;
      if (c.beat && at_end) beat.verdict = BeatVerdict::weak;
      reject_if_unreadable(beat, train.unreadable);
      train.candidates.push_back(beat);
      ComplexSize& complex = sizes.emplace_back();
      if (beat.verdict == BeatVerdict::accepted) complex = complex_size(signals[c.signal].values, position, rate);
      complex.height =
          millivolts[c.signal] ? complex.height * *millivolts[c.signal] : std::numeric_limits<float>::infinity();
    }
  }
  reject_no_complexes(train.candidates, sizes);
  settle_order(train.candidates, options.refractory);
  declare_doubtful_stretches(train);
  if (train.candidates.empty()) train.warnings.push_back({"nothing_found", "no candidate for a heart beat in the ECG"});
  return train;
}

}  // namespace pulsewright
