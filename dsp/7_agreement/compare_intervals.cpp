#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "elementary/elementary.hpp"
#include "offset_line.hpp"
#include "pulsewright/clean.hpp"
#include "pulsewright/interval_study.hpp"

namespace pulsewright {
namespace {

/// Differences of test beats from reference beats, each taken to the test beat nearest to `delay_s` after it, no further from there than `reach_s`.
std::vector<double> delays_near(const std::vector<Seconds>& reference, const std::vector<Seconds>& test, double delay_s,
                                double reach_s) {
  std::vector<double> delays;
  for (const Seconds beat : reference) {
    const Seconds due = beat + Seconds{delay_s};
    auto next = std::lower_bound(test.begin(), test.end(), due);
    if (next != test.begin() && (next == test.end() || due - *(next - 1) < *next - due)) --next;
    if (next != test.end() && std::abs((*next - due).value()) <= reach_s) delays.push_back((*next - beat).value());
  }
  return delays;
}

/// How the rates of the two align.
Alignment alignment_of(const BeatTrain& reference, const BeatTrain& test, std::optional<Seconds> by_clocks) {
  AlignmentOptions options;
  options.steps = AlignmentSteps::offset;
  options.only_where_demanded = false;
  const auto side = [](const BeatTrain& beats) { return RateSide{rate_over_windows(beats, clean(beats)), beats}; };
  return align(side(reference), side(test), options, by_clocks);
}

BeatTrain earlier(BeatTrain train, Seconds by) {
  for (Beat& beat : train.candidates) beat.time -= by;
  return train;
}

void tell_clocks(const Alignment& alignment, ComparedIntervals& result) {
  if (alignment.clocks == StatedClocks::unstated) return;
  const bool followed = alignment.clocks == StatedClocks::followed;
  result.agreement.warnings.push_back(
      {followed ? "by_clocks" : "clocks_contradicted", result.facts.name + ": " + alignment.note});
}

}  // namespace

std::optional<Seconds> usual_delay(const BeatTrain& reference, const BeatTrain& test) {
  constexpr double earliest_s = -0.3, latest_s = 0.8, step_s = 0.01, reach_s = 0.05, spread_s = 0.02;
  const std::vector<Seconds> expected = reference.times(), found = test.times();
  double most = 0;
  std::vector<double> best;
  for (double delay = earliest_s; delay <= latest_s + 0.5 * step_s; delay += step_s) {
    std::vector<double> delays = delays_near(expected, found, delay, reach_s);
    double alike = 0;
    for (const double d : delays) {
      const double z = (d - delay) / spread_s;
      alike += elementary::exp(-0.5 * (z * z));
    }
    if (alike <= most) continue;
    most = alike;
    best = std::move(delays);
  }
  if (best.empty() || 2 * best.size() < expected.size()) return std::nullopt;
  return Seconds{median_of(std::move(best))};
}

ComparedIntervals compare_intervals(IntervalRecord record, const IntervalStudyOptions& options) {
  ComparedIntervals result;
  result.facts = std::move(record.facts);
  for (const BeatTrain* side : {&record.reference, &record.test})
    result.warnings.insert(result.warnings.end(), side->warnings.begin(), side->warnings.end());
  const auto stop = [&result](std::string why) {
    result.left_out = std::move(why);
    result.agreement.warnings.push_back({"left_out", result.facts.name + ": nothing is compared: " + result.left_out});
    return result;
  };
  if (!record.unreadable.empty()) return stop(std::move(record.unreadable));
  if (record.reference.times().size() < 2) return stop("the reference has no interval");
  if (record.test.times().size() < 2) return stop("the test has no interval");
  result.reached = FlowStage::readable;
  std::optional<Seconds> offset = options.offset;
  std::string why = "fewer than half of the beats have a delay that is alike";
  Seconds usual_from;
  Alignment alignment;
  if (!offset && !record.one_clock) {
    alignment = alignment_of(record.reference, record.test, record.by_clocks);
    if (alignment.found_offset)
      offset = alignment.offset;
    else
      why = alignment.note;
    usual_from = alignment.offset;
  }
  if (!offset) {
    offset = usual_delay(record.reference, earlier(record.test, usual_from));
    if (offset) *offset += usual_from;
    if (offset && !record.one_clock) result.note = "compared as if on one clock, and not aligned by rates: " + why;
  }
  if (!offset) return stop("its beats cannot be told to belong to the reference's: " + why);
  result.offset = *offset;
  for (Beat& beat : record.test.candidates) beat.time -= result.offset;
  result.reached = FlowStage::aligned;
  MatchOptions common = options.match;
  // A list of beats ends with its last one, which must not be lost.
  const Seconds first = Seconds{0} - result.offset - common.tolerance;
  const Seconds last = record.test.duration - result.offset + common.tolerance;
  if (first > Seconds{0}) common.exclude.push_back({Seconds{0}, first});
  if (last < record.reference.duration) common.exclude.push_back({last, record.reference.duration + Seconds{1}});
  result.agreement = interval_agreement(record.reference, record.test, common);
  tell_clocks(alignment, result);
  result.agreement.beats.name = result.facts.name;
  if (!result.note.empty())
    result.agreement.warnings.push_back({"unaligned_records", result.facts.name + ": " + result.note});
  if (result.agreement.intervals.pairs < options.fewest_intervals)
    return stop(fmt::format("{} intervals are bounded by the same beats on both sides; {} are needed",
                            result.agreement.intervals.pairs, options.fewest_intervals));
  result.reached = FlowStage::analysed;
  return result;
}

}  // namespace pulsewright
