#include "paired_windows.hpp"

#include <algorithm>
#include <cmath>

#include "pulsewright/median.hpp"

namespace pulsewright {
namespace {

/// A rate that is known at a moment or over a window.
struct Reading {
  double start = 0, end = 0;
  std::optional<double> rate, low, high;

  [[nodiscard]] double middle() const { return 0.5 * (start + end); }
  [[nodiscard]] double length() const { return end - start; }
};

constexpr double rounding_s = 1e-3;

std::optional<double> plain(const std::optional<BeatsPerMinute>& rate) {
  return rate ? std::optional<double>(rate->value()) : std::nullopt;
}

std::vector<Reading> readings_of(const RateSeries& series, const Alignment* alignment) {
  std::vector<Reading> readings;
  readings.reserve(series.windows.size());
  for (const RateWindow& w : series.windows) {
    Seconds start = w.window.start, end = w.window.end;
    if (alignment != nullptr) {
      start = alignment->to_reference(start);
      end = alignment->to_reference(end);
    }
    readings.push_back({start.value(), end.value(), plain(w.rate), plain(w.low), plain(w.high)});
  }
  return readings;
}

/// Readings averaged over each of `windows`: those whose middle lies inside, when they fill at least half of it.
std::vector<Reading> averaged(const std::vector<Reading>& readings, const std::vector<Reading>& windows) {
  std::vector<Reading> result;
  std::size_t first = 0;
  for (const Reading& window : windows) {
    while (first < readings.size() && readings[first].middle() < window.start) ++first;
    double sum = 0, filled = 0, count = 0;
    for (std::size_t i = first; i < readings.size() && readings[i].middle() < window.end; ++i) {
      if (!readings[i].rate) continue;
      sum += *readings[i].rate;
      filled += readings[i].length();
      count += 1;
    }
    Reading mean{window.start, window.end, std::nullopt, std::nullopt, std::nullopt};
    if (count > 0 && 2 * filled >= window.length()) mean.rate = sum / count;
    result.push_back(mean);
  }
  return result;
}

/// The reading whose window is this one, else what lies on the line between the two around its middle.
Reading read_at(const std::vector<Reading>& readings, const Reading& window, double step) {
  Reading found{window.start, window.end, std::nullopt, std::nullopt, std::nullopt};
  const double time = window.middle();
  const auto after = std::lower_bound(readings.begin(), readings.end(), time - rounding_s,
                                      [](const Reading& r, double t) { return r.middle() < t; });
  if (after == readings.end()) return found;
  if (after->middle() <= time + rounding_s) {
    found.rate = after->rate;
    found.low = after->low;
    found.high = after->high;
    return found;
  }
  if (after == readings.begin()) return found;
  const Reading &a = *(after - 1), &b = *after;
  if (!a.rate || !b.rate || b.middle() - a.middle() > 2 * step + rounding_s) return found;
  const double share = (time - a.middle()) / (b.middle() - a.middle());
  const auto between = [share](double from, double to) { return from + share * (to - from); };
  found.rate = between(*a.rate, *b.rate);
  if (a.low && b.low) found.low = between(*a.low, *b.low);
  if (a.high && b.high) found.high = between(*a.high, *b.high);
  return found;
}

double median_step(const std::vector<Reading>& readings) {
  std::vector<double> steps;
  for (std::size_t i = 1; i < readings.size(); ++i) steps.push_back(readings[i].middle() - readings[i - 1].middle());
  if (steps.empty()) return 0;
  return upper_median(std::span(steps));
}

}  // namespace

PairedWindows pair_windows(const RateSeries& reference, const RateSeries& test, const Alignment& alignment) {
  PairedWindows result;
  std::vector<Reading> expected = readings_of(reference, nullptr), found = readings_of(test, &alignment);
  if (expected.empty() || found.empty()) {
    result.counts.reference = expected.size();
    return result;
  }
  const double start = std::max(expected.front().start, found.front().start);
  const double end = std::min(expected.back().end, found.back().end);
  result.common = Seconds{std::max(0.0, end - start)};
  const double first = found.front().start, last = found.back().end;
  const double of_reference = expected.front().length(), of_test = found.front().length();
  if (2 * of_reference < of_test)
    expected = averaged(expected, found);
  else if (2 * of_test < of_reference)
    found = averaged(found, expected);
  const double step = median_step(found);
  result.overlap = expected.size() > 1 && median_step(expected) < expected.front().length() - rounding_s;

  result.counts.reference = expected.size();
  for (const Reading& window : expected) {
    if (!window.rate) continue;
    ++result.counts.reference_answered;
    if (window.start < first - rounding_s || window.end > last + rounding_s) continue;
    ++result.counts.common;
    const Reading other = read_at(found, window, step);
    if (!other.rate) continue;
    ++result.counts.answered;
    PairedValue pair;
    pair.reference = *window.rate;
    pair.test = *other.rate;
    pair.time = Seconds{window.middle()};
    if (other.low && other.high) {
      pair.low = other.low;
      pair.high = other.high;
    }
    result.pairs.push_back(pair);
  }
  return result;
}

}  // namespace pulsewright
