#include "pulsewright/pulse_count.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "pulsewright/effort.hpp"
#include "pulsewright/error.hpp"

namespace pulsewright {

const char* to_string(CountStart start) { return start == CountStart::on_a_beat ? "beat" : "moment"; }

ScoredCount unscored_count(const SheetCount& count, const std::string& reason) {
  if (!(count.length > Seconds{0}) || count.counted < 0)
    throw Error{ErrorCode::contract, "score_count: a count takes some time and is not negative"};
  ScoredCount result;
  result.count = count;
  result.by_count = BeatsPerMinute{60.0 * count.counted / count.length.value()};
  result.reason = reason;
  return result;
}

namespace {

/// Of the time of a count, so much has to be measured (ours).
constexpr double least_measured = 0.80;

/// The mean rate over a span, and the share of the span that it was measured in.
struct SpanRate {
  double bpm = 0;
  double share = 0;
};

SpanRate rate_over(const RateSeries& rates, const Span& span) {
  double beats = 0, measured_s = 0;
  for (const EffortCell& cell : effort_cells(rates)) {
    const double start = static_cast<double>(cell.start_us) / 1e6;
    const double end = start + static_cast<double>(cell.length_us) / 1e6;
    const double inside = std::min(end, span.end.value()) - std::max(start, span.start.value());
    if (!cell.rate || inside <= 0) continue;
    beats += cell.rate->value() * inside;
    measured_s += inside;
  }
  return {measured_s > 0 ? beats / measured_s : 0.0, measured_s / span.length().value()};
}

void add_interval(ScoredCount& result, const RateSeries& rates, const Span& span) {
  double down = 0, up = 0, windows = 0;
  for (const RateWindow& window : rates.windows) {
    const Seconds centre = window.window.start + 0.5 * window.window.length();
    if (!window.rate || !span.contains(centre)) continue;
    if (!window.low || !window.high) return;
    down += (*window.rate - *window.low).value();
    up += (*window.high - *window.rate).value();
    windows += 1;
  }
  if (windows == 0) return;
  result.recorded_low = *result.recorded - BeatsPerMinute{down / windows};
  result.recorded_high = *result.recorded + BeatsPerMinute{up / windows};
}

/// How far a count lies outside the interval of what was recorded; 0 inside.
double outside_bpm(const ScoredCount& scored) {
  const double by_count = scored.by_count.value();
  const double low = scored.recorded_low.value_or(*scored.recorded).value();
  const double high = scored.recorded_high.value_or(*scored.recorded).value();
  return std::max({0.0, low - by_count, by_count - high});
}

}  // namespace

ScoredCount score_count(const SheetCount& count, const RateSeries& rates) {
  ScoredCount result = unscored_count(count, {});
  const Span span{count.start, count.start + count.length};
  if (span.end > rates.duration + Seconds{1}) {
    result.reason = "the recording ends before the count does";
    return result;
  }
  const SpanRate measured = rate_over(rates, span);
  if (measured.share < least_measured) {
    result.reason = fmt::format("not measured here: {:.0f} % of that time has a rate, and {:.0f} % are needed",
                                100.0 * measured.share, 100.0 * least_measured);
    return result;
  }
  result.recorded = BeatsPerMinute{measured.bpm};
  result.difference_bpm = (result.by_count - *result.recorded).value();
  add_interval(result, rates, span);
  return result;
}

CountStudy count_study(std::vector<ScoredCount> counts) {
  CountStudy study;
  study.counts = std::move(counts);
  struct Sums {
    std::size_t counts = 0;
    double measured = 0, sum = 0, squares = 0;
  };
  std::map<std::pair<double, CountStart>, Sums> groups;
  for (const ScoredCount& c : study.counts) {
    Sums& sums = groups[{c.count.length.value(), c.count.began}];
    ++sums.counts;
    if (!c.difference_bpm) continue;
    sums.measured += 1;
    sums.sum += *c.difference_bpm;
    sums.squares += *c.difference_bpm * *c.difference_bpm;
    constexpr double beats_off = 2;
    const double beat = 60 / c.count.length.value();
    if (outside_bpm(c) > beats_off * beat)
      study.warnings.push_back({"miscounted", c.count.code + " is off by more than two beats in " + c.count.recording +
                                                  ": is it the right recording and time?"});
  }
  for (const auto& [key, sums] : groups) {
    CountGroup group;
    group.length = Seconds{key.first};
    group.began = key.second;
    group.counts = sums.counts;
    group.beat_bpm = 60 / key.first;
    const bool on_beat = key.second == CountStart::on_a_beat;
    group.expected_bias_bpm = on_beat ? -0.5 * group.beat_bpm : 0;
    group.expected_rms_bpm = group.beat_bpm / std::sqrt(on_beat ? 3.0 : 6.0);
    if (sums.measured > 0) {
      group.found_bias_bpm = sums.sum / sums.measured;
      group.found_rms_bpm = std::sqrt(sums.squares / sums.measured);
    }
    study.groups.push_back(group);
  }
  return study;
}

}  // namespace pulsewright
