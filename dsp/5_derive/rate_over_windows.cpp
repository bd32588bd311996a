#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "elementary/elementary.hpp"
#include "pulsewright/median.hpp"
#include "pulsewright/rate.hpp"
#include "rate_distribution.hpp"

namespace pulsewright {

namespace {

/// A rate needs this many beats: two have no interval to check the other against.
constexpr std::size_t fewest_beats = 3;
/// Timing error of a beat, one SD. R peaks in exercise and in disturbed records, whose rates it makes the intervals hold in 95 % of the windows (development records; of 2, 4, 6 and
/// 8 ms, where 2 ms held 77 %); and systolic peaks, whose distance from the heart's beat wanders with breath and vessel tone.
constexpr double ecg_timing_s = 0.006;
constexpr double pulse_timing_s = 0.010;
/// For beats from elsewhere without a sample clock: the tick of 1 ms in which such lists are written.
constexpr double default_tick_s = 0.001;
/// Share of false or missed beats that leave normal intervals on both sides (injection study: at most 5 % go unseen).
constexpr double unseen_share = 0.05;
/// Share of those that leave intervals in which a beat is displaced and none too many or too few. Set with `flag_hides_one` on development records (Wrist PPG During Exercise, MIT-BIH
/// Arrhythmia and Noise Stress Test): of 1, 0.5, 0.2, 0.1, 0.05 and of 0.025, 0.01, 0.003 the pair by which confidence is least surprised.
constexpr double displaced_share = 0.2;
/// Probability that a flagged missed or extra beat is one (injection study).
constexpr double flag_is_right = 0.95;
/// Probability that another flagged interval hides one beat too many, and the same for too few.
constexpr double flag_hides_one = 0.003;
/// The contract's confidence: within 5 beats/min.
constexpr double near_bpm = 5.0;

double timing_sd(const BeatTrain& train, const std::vector<Beat>& beats) {
  switch (train.source) {
    case BeatSource::ecg: return ecg_timing_s;
    case BeatSource::pulse: return pulse_timing_s;
    case BeatSource::intervals:
    case BeatSource::file: break;
  }
  const Beat& last = beats.back();
  const double tick =
      last.sample.value() > 0 ? last.time.value() / static_cast<double>(last.sample.value()) : default_tick_s;
  return std::max(tick, default_tick_s) / std::sqrt(12.0);
}

bool moves_a_beat(IntervalVerdict verdict) {
  return verdict == IntervalVerdict::early_beat || verdict == IntervalVerdict::compensatory_pause ||
         verdict == IntervalVerdict::misplaced;
}

/// Of false and missed beats, the share that has at most an interval of this verdict beside it.
double share_beside(IntervalVerdict verdict) {
  if (verdict == IntervalVerdict::normal) return unseen_share;
  return moves_a_beat(verdict) ? displaced_share : 1.0;
}

/// One pass over a train, window by window.
class WindowedRate {
 public:
  WindowedRate(std::vector<Beat> beats, double timing_s, const Intervals& intervals, std::vector<Span> unmeasured,
               double least_confidence)
      : beats_(std::move(beats)),
        timing_s_(timing_s),
        rows_(intervals.intervals),
        unmeasured_(std::move(unmeasured)),
        least_confidence_(least_confidence) {}

  [[nodiscard]] RateWindow over(Span window) const {
    RateWindow result;
    result.window = window;
    const auto earlier = [](const Beat& beat, Seconds t) { return beat.time < t; };
    const auto first = static_cast<std::size_t>(std::lower_bound(beats_.begin(), beats_.end(), window.start, earlier) -
                                                beats_.begin());
    const auto end =
        static_cast<std::size_t>(std::lower_bound(beats_.begin(), beats_.end(), window.end, earlier) - beats_.begin());
    if (end - first < fewest_beats) return result;
    if (unmeasured_in(window) > 0.5 * window.length().value()) return result;

    const std::size_t last = end - 1;
    const int count = static_cast<int>(end - first);
    const double seconds = (beats_[last].time - beats_[first].time).value();
    const double rate = 60.0 * (count - 1) / seconds;
    const double sd = elementary::hypot(edge_error(first, first), edge_error(last, last - 1));
    const RateDistribution truth = rate_distribution(count, seconds, sd, count_error(first, last));
    const double confidence = truth.cumulative(rate + near_bpm) - truth.cumulative(rate - near_bpm);
    if (confidence < least_confidence_) return result;
    result.rate = BeatsPerMinute{rate};
    result.low = BeatsPerMinute{std::min(rate, truth.quantile(0.025))};
    result.high = BeatsPerMinute{std::max(rate, truth.quantile(0.975))};
    result.confidence = std::min(confidence, 1.0);
    result.method = RateMethod::beats;
    return result;
  }

 private:
  /// Timing error of a beat at the edge of the window, whose interval inside the window is `row`.
  [[nodiscard]] double edge_error(std::size_t beat, std::size_t row) const {
    double error = timing_s_;
    for (const std::size_t i : {beat, beat - 1}) {  // intervals on its right and on its left
      if (i >= rows_.size() || !moves_a_beat(rows_[i].verdict)) continue;
      if (i != row && i + 1 != row && row + 1 != i) continue;
      const double displaced =
          std::abs(rows_[i].original_ms - rows_[i].corrected_ms.value_or(0.8 * rows_[i].original_ms));
      error = std::max(error, 0.001 * displaced);
    }
    return error;
  }

  [[nodiscard]] CountError count_error(std::size_t first, std::size_t last) const {
    CountError error;
    for (std::size_t b = first; b <= last; ++b) {
      const IntervalVerdict left = b == 0 ? IntervalVerdict::normal : rows_[b - 1].verdict;
      const IntervalVerdict right = b >= rows_.size() ? IntervalVerdict::normal : rows_[b].verdict;
      const double share = std::max(share_beside(left), share_beside(right));
      const double doubt = std::clamp(1.0 - beats_[b].confidence, 0.0, 1.0);
      const double p = doubt * share / (1.0 - doubt + doubt * share);
      error.add(-1, p);
      error.add(+1, p);
    }
    double level = median_normal(first, last);
    for (std::size_t i = first; i < last; ++i) {
      const Interval& row = rows_[i];
      switch (row.verdict) {
        case IntervalVerdict::normal: break;
        case IntervalVerdict::missed_beat: error.add(row.missed_inside, flag_is_right); break;
        case IntervalVerdict::extra_beat:
          // The row that holds the merged interval speaks for the detections inside it that lie in the window.
          error.add(-std::min(row.merged_rows - 1, static_cast<int>(last - i - 1)), flag_is_right);
          if (row.merged_rows == 1 && !row.corrected_ms && (i == first || rows_[i - 1].merged_rows == 1))
            error.add(-1, 0.5);
          break;
        case IntervalVerdict::gap:
          if (level > 0.0) error.add(static_cast<int>(std::lround(row.original_ms / level)) - 1, flag_is_right);
          [[fallthrough]];
        case IntervalVerdict::early_beat:
        case IntervalVerdict::compensatory_pause:
        case IntervalVerdict::misplaced:
          error.add(-1, flag_hides_one);
          error.add(+1, flag_hides_one);
          break;
      }
    }
    return error;
  }

  /// Median of the normal intervals between two beats, in ms, widening the stretch when there is none; 0 when there is none at all.
  [[nodiscard]] double median_normal(std::size_t first, std::size_t last) const {
    for (std::size_t reach = 0; reach <= rows_.size(); reach = reach == 0 ? 8 : 2 * reach) {
      std::vector<double> values;
      const std::size_t from = first - std::min(first, reach);
      const std::size_t to = std::min(last + reach, rows_.size());
      for (std::size_t i = from; i < to; ++i)
        if (rows_[i].verdict == IntervalVerdict::normal) values.push_back(rows_[i].original_ms);
      if (values.empty()) continue;
      return upper_median(std::span(values));
    }
    return 0.0;
  }

  [[nodiscard]] double unmeasured_in(Span window) const {
    double sum = 0.0;
    auto span = std::lower_bound(unmeasured_.begin(), unmeasured_.end(), window.start,
                                 [](const Span& s, Seconds t) { return s.end <= t; });
    for (; span != unmeasured_.end() && span->start < window.end; ++span)
      sum += (std::min(span->end, window.end) - std::max(span->start, window.start)).value();
    return sum;
  }

  std::vector<Beat> beats_;
  double timing_s_;
  const std::vector<Interval>& rows_;
  std::vector<Span> unmeasured_;
  double least_confidence_;
};

/// Unreadable spans, gap intervals, and silence at the ends, as one ordered list without overlap.
std::vector<Span> unmeasured_spans(const BeatTrain& train, const std::vector<Beat>& beats, const Intervals& intervals) {
  std::vector<Span> spans = train.unreadable;
  for (const Interval& row : intervals.intervals)
    if (row.verdict == IntervalVerdict::gap) spans.push_back({row.start, row.end});
  const Seconds patience = intervals.options.longest;
  if (beats.front().time > patience) spans.push_back({Seconds{0.0}, beats.front().time});
  if (train.duration - beats.back().time > patience) spans.push_back({beats.back().time, train.duration});
  std::sort(spans.begin(), spans.end(), [](const Span& a, const Span& b) { return a.start < b.start; });
  std::vector<Span> merged;
  for (const Span& span : spans) {
    if (!merged.empty() && span.start <= merged.back().end)
      merged.back().end = std::max(merged.back().end, span.end);
    else
      merged.push_back(span);
  }
  return merged;
}

std::vector<Beat> accepted_of(const BeatTrain& train) {
  std::vector<Beat> beats;
  for (const Beat& beat : train.candidates)
    if (beat.verdict == BeatVerdict::accepted) beats.push_back(beat);
  return beats;
}

}  // namespace

RateSeries rate_over_windows(const BeatTrain& train, const Intervals& intervals, const RateOptions& options) {
  const double window = options.window.value();
  const double step = options.step.value();
  if (!(window > 0.0 && step > 0.0 && std::isfinite(window) && std::isfinite(step)))
    throw Error{ErrorCode::contract,
                fmt::format("rate_over_windows: window {} s, step {} s; both must be positive", window, step)};
  const std::vector<Beat> beats = accepted_of(train);
  if (intervals.intervals.size() + 1 != std::max<std::size_t>(beats.size(), 1))
    throw Error{ErrorCode::contract,
                fmt::format("rate_over_windows: {} intervals for {} accepted beats; there must be one "
                            "between each pair of neighbours",
                            intervals.intervals.size(), beats.size())};
  RateSeries result;
  result.options = options;
  result.duration = train.duration;
  result.provenance = train.provenance;
  // The end of a window that would overshoot the recording by rounding alone still counts as inside it.
  constexpr double rounding_s = 1e-9;
  const double duration = train.duration.value();
  if (duration + rounding_s < window) {
    result.warnings.push_back(
        {"shorter_than_window", fmt::format("The recording lasts {:.3f} s, less than one window of {} s: "
                                            "no rate. A shorter window may help.",
                                            duration, window)});
    return result;
  }
  const auto count = static_cast<std::int64_t>(std::floor((duration + rounding_s - window) / step)) + 1;
  std::vector<Span> unmeasured;
  double timing = 0.0;
  if (!beats.empty()) {
    unmeasured = unmeasured_spans(train, beats, intervals);
    timing = timing_sd(train, beats);
  }
  const WindowedRate rate{beats, timing, intervals, std::move(unmeasured), options.least_confidence};
  for (std::int64_t k = 0; k < count; ++k) {
    const Seconds start{static_cast<double>(k) * step};
    result.windows.push_back(rate.over({start, start + options.window}));
  }
  const bool none =
      std::none_of(result.windows.begin(), result.windows.end(), [](const RateWindow& w) { return w.rate; });
  if (none) result.warnings.push_back({"no_rate", "No window has enough trustworthy beats for a rate."});
  return result;
}

}  // namespace pulsewright
