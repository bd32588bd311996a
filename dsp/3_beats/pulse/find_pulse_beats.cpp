#include <algorithm>
#include <cmath>

#include "3_beats/doubtful_stretches.hpp"
#include "3_beats/unreadable.hpp"
#include "pulse_confidence.hpp"
#include "pulse_judge.hpp"
#include "pulse_peak.hpp"
#include "pulse_wave.hpp"
#include "pulsewright/beats.hpp"
#include "upstroke_foot.hpp"

namespace pulsewright {

using namespace beats_stage;
namespace {

// The recording is judged in stretches of this core length, each seen with this much more to either side.
constexpr Seconds core_length{600.0};
constexpr Seconds margin{30.0};

}  // namespace

BeatTrain find_pulse_beats(std::span<const Signal> signals, Seconds duration, const PulseOptions& options) {
  BeatTrain train;
  train.duration = duration;
  train.source = BeatSource::pulse;
  if (signals.empty() || signals[0].values.empty()) {
    train.unreadable.push_back({Seconds{0}, duration});
    train.warnings.push_back({"nothing_readable", "no pulse samples to look for beats in"});
    return train;
  }
  check_same_grid(signals, "find_pulse_beats");
  const Hertz rate = signals[0].rate;
  const std::size_t size = signals[0].values.size();
  train.unreadable = unreadable_spans(signals, duration);

  const auto core = std::max<std::size_t>(1, static_cast<std::size_t>(samples_in(core_length, rate)));
  const auto around = static_cast<std::size_t>(samples_in(margin, rate));
  std::vector<PulsePolarity> polarities(signals.size());
  for (std::size_t core_first = 0; core_first < size; core_first += core) {
    const std::size_t first = core_first > around ? core_first - around : 0;
    const std::size_t last = std::min(size, core_first + core + around);
    std::vector<std::span<const float>> stretch;
    for (std::size_t k = 0; k < signals.size(); ++k) {
      stretch.push_back(std::span{signals[k].values}.subspan(first, last - first));
      polarities[k].learn(stretch.back(), rate);
    }
    const std::vector<float> wave = upright_wave(stretch, rate, polarities);
    std::size_t before = 0;
    for (const PulseCandidate& c : judge_pulse(wave, rate, restarts(stretch, rate), options)) {
      const std::size_t previous = before;
      if (c.beat) before = c.at;
      const std::size_t at = first + c.at;
      if (at < core_first || at >= core_first + core) continue;
      const double position = static_cast<double>(first) + systolic_peak_near(wave, c.at, rate);
      Beat beat;
      beat.time = signals[0].start + Seconds{position / rate.value()};
      beat.sample = SampleIndex{std::lround(position)};
      beat.verdict = c.verdict;
      beat.confidence = pulse_confidence(c);
      if (const auto foot = c.beat ? upstroke_foot(wave, previous, c.at, rate) : std::nullopt)
        beat.foot = signals[0].start + Seconds{(static_cast<double>(first) + *foot) / rate.value()};
      reject_if_unreadable(beat, train.unreadable);
      train.candidates.push_back(beat);
    }
  }
  settle_order(train.candidates, options.refractory);
  declare_doubtful_stretches(train);
  if (train.candidates.empty()) train.warnings.push_back({"nothing_found", "no candidate for a pulse"});
  return train;
}

}  // namespace pulsewright
