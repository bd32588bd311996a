#include "doubtful_stretches.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <utility>

#include "3_beats/pulse/pulse_confidence.hpp"
#include "unreadable.hpp"

namespace pulsewright::beats_stage {
namespace {

constexpr std::size_t reach = 5;

/// Pulse: the mean confidence at which a stretch is as likely no pulse.
constexpr double even = 0.5;
/// ECG: mean logarithm of background over strength, and above it the mean likeness of whole beats and the mean size of the match in noise (a logarithm) that are asked for, one or the other. On the development
/// records of the MIT-BIH Arrhythmia Database 81 of 59,901 beats found lie in such a stretch, all in record 207, which has flutter; 7 more in record 118 under noise as strong as the ECG (118e00). Of what is found in
/// baseline wander alone (Noise Stress Test Database) 99.3 % does, and of what is found in muscle noise alone all.
constexpr double drowned = -1.6;
constexpr double unlike = 0.55;
constexpr double unmatched = -0.45;
/// ECG: without a single beat for longer, there is no heart to be seen.
constexpr Seconds longest_silence{10.0};

constexpr double worth_a_warning = 0.1;

// For each beat of a list: the mean of values over the beats around it.
std::vector<double> means_around(const std::vector<double>& values) {
  std::vector<double> sums{0.0}, means;
  for (const double v : values) sums.push_back(sums.back() + v);
  for (std::size_t b = 0; b < values.size(); ++b) {
    const std::size_t from = b - std::min(b, reach);
    const std::size_t to = std::min(values.size(), b + reach + 1);
    means.push_back((sums[to] - sums[from]) / static_cast<double>(to - from));
  }
  return means;
}

}  // namespace

void mark_doubtful(std::vector<PulseCandidate>& candidates) {
  std::vector<double> confidences;
  for (const PulseCandidate& c : candidates) {
    if (c.beat) confidences.push_back(pulse_confidence(c));
  }
  const std::vector<double> means = means_around(confidences);
  std::size_t b = 0;
  for (PulseCandidate& c : candidates) c.doubtful = c.beat && means[b++] < even;
}

void mark_doubtful(std::vector<JudgedComplex>& complexes) {
  std::vector<double> backgrounds, likenesses, sizes;
  for (const JudgedComplex& c : complexes) {
    if (!c.beat) continue;
    backgrounds.push_back(static_cast<double>(c.to_background));
    likenesses.push_back(static_cast<double>(c.shape.energy));
    sizes.push_back(static_cast<double>(c.noise.size));
  }
  const std::vector<double> background = means_around(backgrounds), likeness = means_around(likenesses),
                            size = means_around(sizes);
  std::size_t b = 0;
  for (JudgedComplex& c : complexes) {
    c.doubtful = c.beat && background[b] > drowned && likeness[b] < unlike && size[b] < unmatched;
    b += c.beat ? 1 : 0;
  }
}

void declare_doubtful_stretches(BeatTrain& train) {
  std::vector<Span> spans = train.unreadable;
  const Beat* before = nullptr;  // the last beat that was seen, of either kind
  bool open = false;
  double doubtful_s = 0.0;
  const auto close = [&](Seconds end) {
    spans.back().end = end;
    doubtful_s += spans.back().length().value();
    open = false;
  };
  const auto silence = [&](Seconds from, Seconds to) {
    return train.source == BeatSource::ecg && to - from > longest_silence &&
           std::none_of(train.unreadable.begin(), train.unreadable.end(),
                        [&](const Span& s) { return s.start < to && from < s.end; });
  };
  for (const Beat& beat : train.candidates) {
    const bool doubtful = beat.verdict == BeatVerdict::unreadable;
    if (!doubtful && beat.verdict != BeatVerdict::accepted) continue;
    // Where there was no signal to read, nothing is doubtful.
    if (lies_in(beat.time, train.unreadable)) continue;
    const Seconds silent_from = before == nullptr ? Seconds{0} : before->time;
    if (!open && silence(silent_from, beat.time)) {
      spans.push_back({silent_from, beat.time});
      doubtful_s += spans.back().length().value();
    }
    const Seconds middle = before == nullptr ? Seconds{0} : before->time + 0.5 * (beat.time - before->time);
    if (doubtful && !open) {
      spans.push_back({middle, middle});
      open = true;
    } else if (!doubtful && open) {
      close(middle);
    }
    before = &beat;
  }
  if (open) {
    close(train.duration);
  } else if (const Seconds from = before == nullptr ? Seconds{0} : before->time; silence(from, train.duration)) {
    spans.push_back({from, train.duration});
    doubtful_s += spans.back().length().value();
  }

  train.unreadable = merged(std::move(spans));
  if (doubtful_s < worth_a_warning * train.duration.value()) return;
  train.warnings.push_back(
      {"no_clear_beats", fmt::format("in {:.0f} s of {:.0f} s no single beat can be trusted: what is there does not "
                                     "repeat as a heartbeat does, or is too small or too short for one",
                                     doubtful_s, train.duration.value())});
}

}  // namespace pulsewright::beats_stage
