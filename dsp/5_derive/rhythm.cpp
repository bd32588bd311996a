#include "pulsewright/rhythm.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "elementary/elementary.hpp"
#include "rhythm_weights.hpp"

namespace pulsewright {
namespace {

/// A window with more missed, extra or misplaced beats than this says more about the detector than about the heart.
constexpr double most_faulty = 0.2;
/// Features further from the mean than so many SDs count as that far.
constexpr double farthest_sds = 4;

bool is_fault(IntervalVerdict verdict) {
  return verdict == IntervalVerdict::missed_beat || verdict == IntervalVerdict::extra_beat ||
         verdict == IntervalVerdict::misplaced;
}

RhythmState state_of(const std::array<double, rhythm_states>& probability) {
  if (probability[2] >= irregular_from) return RhythmState::irregular;
  return probability[1] > probability[0] ? RhythmState::early_beats : RhythmState::regular;
}

/// Intervals with no gap among them, from `first` on.
bool without_gap(std::span<const Interval> intervals) {
  constexpr double touching_s = 1e-6;
  for (std::size_t i = 0; i < intervals.size(); ++i) {
    if (intervals[i].verdict == IntervalVerdict::gap || !(intervals[i].original_ms > 0)) return false;
    if (i > 0 && std::abs((intervals[i].start - intervals[i - 1].end).value()) > touching_s) return false;
  }
  return true;
}

bool is_faulty(std::span<const Interval> intervals) {
  const auto faults =
      std::count_if(intervals.begin(), intervals.end(), [](const Interval& i) { return is_fault(i.verdict); });
  return static_cast<double>(faults) > most_faulty * static_cast<double>(intervals.size());
}

void sum_up(Rhythm& rhythm) {
  std::array<std::size_t, rhythm_states> counts{};
  std::array<double, rhythm_states> sums{};
  for (const RhythmWindow& window : rhythm.windows) {
    const auto state = static_cast<std::size_t>(window.state);
    counts[state] += 1;
    sums[state] += window.probability[state];
  }
  std::size_t most = 0;
  for (std::size_t k = 0; k < rhythm_states; ++k) {
    rhythm.percent[k] = 100.0 * static_cast<double>(counts[k]) / static_cast<double>(rhythm.windows.size());
    if (counts[k] >= counts[most]) most = k;
  }
  rhythm.state = static_cast<RhythmState>(most);
  rhythm.probability = sums[most] / static_cast<double>(counts[most]);
}

}  // namespace

const char* to_string(RhythmState state) {
  switch (state) {
    case RhythmState::regular: return "regular";
    case RhythmState::early_beats: return "irregular_with_early_beats";
    case RhythmState::irregular: return "irregular_throughout";
  }
  return "regular";
}

std::array<double, rhythm_states> rhythm_probabilities(std::span<const double> intervals_ms) {
  namespace w = rhythm_weights;
  std::array<double, rhythm_feature_count> z = rhythm_features(intervals_ms);
  for (std::size_t k = 0; k < z.size(); ++k)
    z[k] = std::clamp((z[k] - w::centre[k]) / w::scale[k], -farthest_sds, farthest_sds);
  std::array<double, w::hidden> unit{};
  for (std::size_t h = 0; h < w::hidden; ++h) {
    double sum = w::first_bias[h];
    for (std::size_t k = 0; k < z.size(); ++k) sum += w::first[h * z.size() + k] * z[k];
    unit[h] = elementary::tanh(sum);
  }
  std::array<double, rhythm_states> p{};
  double total = 0;
  for (std::size_t s = 0; s < rhythm_states; ++s) {
    double sum = w::second_bias[s];
    for (std::size_t h = 0; h < w::hidden; ++h) sum += w::second[s * w::hidden + h] * unit[h];
    p[s] = elementary::exp(sum);
    total += p[s];
  }
  for (double& share : p) share /= total;
  return p;
}

Rhythm rhythm_of(const Intervals& intervals) {
  Rhythm rhythm;
  const std::span<const Interval> all = intervals.intervals;
  if (intervals.source == BeatSource::pulse && !all.empty()) {
    const auto missed = std::count_if(all.begin(), all.end(),
                                      [](const Interval& i) { return i.verdict == IntervalVerdict::missed_beat; });
    rhythm.missed_pulses_percent = 100.0 * static_cast<double>(missed) / static_cast<double>(all.size());
  }
  for (std::size_t first = 0; first + rhythm_window_intervals <= all.size(); first += rhythm_step_intervals) {
    const std::span<const Interval> own = all.subspan(first, rhythm_window_intervals);
    if (!without_gap(own)) continue;
    if (is_faulty(own)) {
      ++rhythm.not_judged;
      continue;
    }
    std::vector<double> ms;
    ms.reserve(own.size());
    for (const Interval& interval : own) ms.push_back(interval.original_ms);
    RhythmWindow window;
    window.window = {own.front().start, own.back().end};
    window.probability = rhythm_probabilities(ms);
    window.state = state_of(window.probability);
    rhythm.windows.push_back(window);
  }
  if (!rhythm.windows.empty())
    sum_up(rhythm);
  else if (rhythm.not_judged > 0)
    rhythm.absent = "in every window more than a fifth of the intervals have missed, extra or misplaced beats";
  else
    rhythm.absent = fmt::format("there are no {} intervals on end", rhythm_window_intervals);
  return rhythm;
}

}  // namespace pulsewright
