#include "unreadable.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "next_missing.hpp"

namespace pulsewright::beats_stage {
namespace {

// A gap at least this long may hide a beat.
constexpr Seconds rhythm_break{0.2};

// Between the beats of a slow heart a clean ECG may stand still: at 25 beats/min for up to two whole seconds. A lead that is off does so for longer.
constexpr std::size_t longest_stillness = 2;

// Whether an ECG stands still in this second no longer than between two beats. Stillness at either end is not between beats.
bool between_beats(const Signal& signal, std::size_t second) {
  if (signal.kind != ChannelKind::ecg || signal.quality[second].fault != QualityFault::flat) return false;
  const auto flat = [&](std::size_t s) { return signal.quality[s].fault == QualityFault::flat; };
  std::size_t first = second, last = second;
  while (first > 0 && second - first <= longest_stillness && flat(first - 1)) --first;
  while (last + 1 < signal.quality.size() && last - second <= longest_stillness && flat(last + 1)) ++last;
  return first > 0 && last + 1 < signal.quality.size() && last - first < longest_stillness;
}

bool second_unreadable(const Signal& signal, std::size_t second) {
  if (second >= signal.quality.size()) return true;
  if (between_beats(signal, second)) return false;
  const QualityFault fault = signal.quality[second].fault;
  return fault == QualityFault::flat || fault == QualityFault::gap;
}

void add(std::vector<Span>& spans, Span span) {
  if (!spans.empty() && span.start <= spans.back().end) {
    spans.back().end = std::max(spans.back().end, span.end);
  } else {
    spans.push_back(span);
  }
}

// Unreadable spans of one signal: its gaps to their exact ends, and its flat seconds.
std::vector<Span> of_signal(const Signal& signal, Seconds duration) {
  std::vector<Span> pieces = signal.gaps;
  if (signal.start > Seconds{0}) pieces.push_back({Seconds{0}, signal.start});
  const Seconds end = signal.start + time_of(SampleIndex{static_cast<std::int64_t>(signal.values.size())}, signal.rate);
  if (end < duration) pieces.push_back({end, duration});
  for (std::size_t s = 0; s < signal.quality.size(); ++s) {
    if (!second_unreadable(signal, s) || signal.quality[s].fault == QualityFault::gap) continue;
    const Seconds from = signal.start + Seconds{static_cast<double>(s)};
    pieces.push_back({from, std::min(from + Seconds{1}, duration)});
  }
  return merged(std::move(pieces));
}

std::vector<Span> common(const std::vector<Span>& a, const std::vector<Span>& b) {
  std::vector<Span> both;
  std::size_t i = 0, j = 0;
  while (i < a.size() && j < b.size()) {
    const Seconds start = std::max(a[i].start, b[j].start);
    const Seconds end = std::min(a[i].end, b[j].end);
    if (start < end) both.push_back({start, end});
    if (a[i].end < b[j].end) {
      ++i;
    } else {
      ++j;
    }
  }
  return both;
}

}  // namespace

void check_same_grid(std::span<const Signal> signals, const std::string& caller) {
  for (const Signal& s : signals) {
    if (s.rate != signals[0].rate || s.start != signals[0].start || s.values.size() != signals[0].values.size()) {
      throw Error{ErrorCode::contract, caller + ": signals '" + signals[0].channel + "' and '" + s.channel +
                                           "' must share rate, start and length to be fused"};
    }
  }
}

std::vector<Span> unreadable_spans(std::span<const Signal> signals, Seconds duration) {
  if (signals.empty()) return {{Seconds{0}, duration}};
  std::vector<Span> spans = of_signal(signals[0], duration);
  for (const Signal& signal : signals.subspan(1)) spans = common(spans, of_signal(signal, duration));
  return spans;
}

std::vector<std::size_t> restarts(std::span<const std::span<const float>> signals, Hertz rate) {
  std::vector<std::size_t> found;
  const std::size_t size = signals[0].size();
  const double least = samples_in(rhythm_break, rate);
  // A run of missing samples begins where the first signal has one, so that only there are the others asked.
  for (std::size_t i = 0; i < size; ++i) {
    i = next_missing(signals[0], i);
    const std::size_t first = i;
    while (i < size && std::all_of(signals.begin(), signals.end(), [i](const auto& s) { return std::isnan(s[i]); }))
      ++i;
    if (i < size && static_cast<double>(i - first) >= least) found.push_back(i);
  }
  return found;
}

std::vector<Span> merged(std::vector<Span> pieces) {
  std::sort(pieces.begin(), pieces.end(), [](const Span& a, const Span& b) { return a.start < b.start; });
  std::vector<Span> spans;
  for (const Span& piece : pieces) {
    if (piece.start < piece.end) add(spans, piece);
  }
  return spans;
}

bool lies_in(Seconds time, const std::vector<Span>& spans) {
  const auto after =
      std::upper_bound(spans.begin(), spans.end(), time, [](Seconds t, const Span& s) { return t < s.start; });
  return after != spans.begin() && (after - 1)->contains(time);
}

void reject_if_unreadable(Beat& beat, const std::vector<Span>& spans) {
  if (beat.verdict == BeatVerdict::accepted && lies_in(beat.time, spans)) beat.verdict = BeatVerdict::unreadable;
}

void settle_order(std::vector<Beat>& candidates, Seconds refractory) {
  std::stable_sort(candidates.begin(), candidates.end(), [](const Beat& a, const Beat& b) { return a.time < b.time; });
  Beat* previous = nullptr;
  for (Beat& beat : candidates) {
    if (beat.verdict != BeatVerdict::accepted) continue;
    // Refined times may come a little closer than the candidates were; half the refractory time is a double count.
    if (previous != nullptr && beat.time - previous->time < 0.5 * refractory) {
      Beat& loser = beat.confidence > previous->confidence ? *previous : beat;
      loser.verdict = BeatVerdict::too_soon;
      if (&loser == &beat) continue;
    }
    previous = &beat;
  }
}

}  // namespace pulsewright::beats_stage
