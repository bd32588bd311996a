#include "pulsewright/clean.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "explain.hpp"
#include "local_level.hpp"
#include "replace.hpp"

namespace pulsewright {

namespace {

/// Fewer usable intervals than this have no surroundings to be judged by (ours).
constexpr std::size_t fewest_to_judge = 6;
/// Rounds of judging: the first learns from all intervals, the second only from those that the first found normal.
constexpr int rounds = 3;

std::vector<const Beat*> accepted_beats(const BeatTrain& train) {
  std::vector<const Beat*> beats;
  for (const Beat& beat : train.candidates) {
    if (beat.verdict != BeatVerdict::accepted) continue;
    if (!beats.empty() && !(beats.back()->time < beat.time))
      throw Error{
          ErrorCode::contract,
          fmt::format("clean: accepted beat {} at {:.6f} s does not come after the one before it at {:.6f} s; beats "
                      "must be in strictly increasing time order",
                      beats.size(), beat.time.value(), beats.back()->time.value())};
    beats.push_back(&beat);
  }
  return beats;
}

bool not_sinus(BeatLabel label) {
  return label == BeatLabel::supraventricular || label == BeatLabel::ventricular || label == BeatLabel::fusion;
}

/// Verdicts that need no comparison: unreadable stretches, the fixed limit, and labels.
std::vector<std::optional<IntervalVerdict>> decided_alone(const std::vector<const Beat*>& beats,
                                                          const std::vector<Span>& unreadable,
                                                          const CleanOptions& options) {
  std::vector<std::optional<IntervalVerdict>> fixed(beats.size() - 1);
  auto span = unreadable.begin();
  for (std::size_t i = 0; i + 1 < beats.size(); ++i) {
    const Seconds start = beats[i]->time;
    const Seconds end = beats[i + 1]->time;
    while (span != unreadable.end() && span->end <= start) ++span;
    const bool overlaps = span != unreadable.end() && span->start < end;
    if (overlaps || end - start > options.longest)
      fixed[i] = IntervalVerdict::gap;
    else if (not_sinus(beats[i + 1]->label))
      fixed[i] = IntervalVerdict::early_beat;
    else if (not_sinus(beats[i]->label))
      fixed[i] = IntervalVerdict::compensatory_pause;
  }
  return fixed;
}

/// What can be said without surroundings: an interval shorter than any heart's ends at a detection that is no beat.
std::vector<Event> judge_by_limits(const std::vector<double>& values,
                                   const std::vector<std::optional<IntervalVerdict>>& fixed,
                                   const CleanOptions& options) {
  std::vector<Event> events;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const bool too_short = values[i] < 1000.0 * options.shortest.value();
    events.push_back({i, 1, fixed[i].value_or(too_short ? IntervalVerdict::extra_beat : IntervalVerdict::normal), 0});
  }
  return events;
}

}  // namespace

Intervals clean(const BeatTrain& train, const CleanOptions& options) {
  if (!(options.shortest.value() > 0.0 && options.shortest < options.longest))
    throw Error{ErrorCode::contract, fmt::format("clean: limits of {} to {} s; they must be 0 < shortest < longest",
                                                 options.shortest.value(), options.longest.value())};
  Intervals result;
  result.duration = train.duration;
  result.options = options;
  result.provenance = train.provenance;
  const std::vector<const Beat*> beats = accepted_beats(train);
  if (beats.size() < 2) {
    result.warnings.push_back({"too_few_beats", beats.empty() ? "No beat was accepted; an interval needs two."
                                                              : "One beat was accepted; an interval needs two."});
    return result;
  }

  std::vector<double> values;
  for (std::size_t i = 0; i + 1 < beats.size(); ++i) {
    const Seconds start = beats[i]->time;
    const Seconds end = beats[i + 1]->time;
    values.push_back(1000.0 * (end - start).value());
    result.intervals.push_back({start, end, values.back(), IntervalVerdict::normal, std::nullopt, 0, 1});
  }

  const auto fixed = decided_alone(beats, train.unreadable, options);
  std::vector<bool> usable(values.size());
  for (std::size_t i = 0; i < values.size(); ++i)
    usable[i] = !fixed[i] && values[i] >= 1000.0 * options.shortest.value();

  std::vector<Event> events = judge_by_limits(values, fixed, options);
  for (int round = 0; round < rounds; ++round) {
    if (std::count(usable.begin(), usable.end(), true) < static_cast<std::ptrdiff_t>(fewest_to_judge)) {
      if (round == 0)
        result.warnings.push_back(
            {"too_few_to_judge", fmt::format("Fewer than {} readable intervals: only the limits of {} to {} s and beat "
                                             "labels were applied.",
                                             fewest_to_judge, options.shortest.value(), options.longest.value())});
      break;
    }
    events = explain(values, fixed, LocalLevels{values, usable}, options);
    for (const Event& event : events)
      for (std::size_t k = event.first; k < event.first + event.rows; ++k)
        usable[k] = event.verdict == IntervalVerdict::normal;
  }
  apply_events(events, options.correction, result.intervals);
  return result;
}

}  // namespace pulsewright
