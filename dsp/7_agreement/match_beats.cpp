#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

#include "pulsewright/agreement.hpp"

namespace pulsewright {
namespace {

constexpr std::ptrdiff_t unmatched = -1;

struct Pair {
  std::size_t reference;
  std::size_t test;
  double distance;  // seconds, absolute
};

// Every pair inside the tolerance, closest first; equal distances in time order.
std::vector<Pair> pairs_by_distance(const std::vector<Seconds>& reference, const std::vector<Seconds>& test,
                                    Seconds tolerance) {
  std::vector<Pair> pairs;
  pairs.reserve(reference.size());
  std::size_t first = 0;
  for (std::size_t i = 0; i < reference.size(); ++i) {
    while (first < test.size() && test[first] < reference[i] - tolerance) ++first;
    for (std::size_t j = first; j < test.size() && test[j] <= reference[i] + tolerance; ++j) {
      pairs.push_back({i, j, std::abs((test[j] - reference[i]).value())});
    }
  }
  std::stable_sort(pairs.begin(), pairs.end(), [](const Pair& a, const Pair& b) { return a.distance < b.distance; });
  return pairs;
}

// One-to-one partners of reference and test beats, never crossing in time.
class Matching {
 public:
  Matching(std::size_t references, std::size_t tests)
      : of_reference_(references, unmatched), of_test_(tests, unmatched) {}

  void take_if_free(const Pair& pair) {
    if (of_reference_[pair.reference] != unmatched || of_test_[pair.test] != unmatched || crosses(pair)) return;
    of_reference_[pair.reference] = static_cast<std::ptrdiff_t>(pair.test);
    of_test_[pair.test] = static_cast<std::ptrdiff_t>(pair.reference);
  }

  [[nodiscard]] std::ptrdiff_t test_of(std::size_t reference) const { return of_reference_[reference]; }
  [[nodiscard]] std::ptrdiff_t reference_of(std::size_t test) const { return of_test_[test]; }

 private:
  // Only pairs that share the neighbourhood of a tolerance can cross, so a few steps to either side decide.
  static constexpr std::size_t neighbourhood = 8;

  [[nodiscard]] bool crosses(const Pair& pair) const {
    const auto j = static_cast<std::ptrdiff_t>(pair.test);
    for (std::size_t k = 1; k <= neighbourhood && k <= pair.reference; ++k) {
      if (of_reference_[pair.reference - k] > j) return true;
    }
    for (std::size_t k = 1; k <= neighbourhood && pair.reference + k < of_reference_.size(); ++k) {
      const auto other = of_reference_[pair.reference + k];
      if (other != unmatched && other < j) return true;
    }
    return false;
  }

  std::vector<std::ptrdiff_t> of_reference_;
  std::vector<std::ptrdiff_t> of_test_;
};

// Sorted, merged, and cut to [from, to).
std::vector<Span> merged_spans(std::vector<Span> spans, Seconds from, Seconds to) {
  std::sort(spans.begin(), spans.end(), [](const Span& a, const Span& b) { return a.start < b.start; });
  std::vector<Span> merged;
  for (Span span : spans) {
    span.start = std::max(span.start, from);
    span.end = std::min(span.end, to);
    if (span.end <= span.start) continue;
    if (!merged.empty() && span.start <= merged.back().end) {
      merged.back().end = std::max(merged.back().end, span.end);
    } else {
      merged.push_back(span);
    }
  }
  return merged;
}

bool inside(const std::vector<Span>& spans, Seconds time) {
  const auto after =
      std::upper_bound(spans.begin(), spans.end(), time, [](Seconds t, const Span& s) { return t < s.start; });
  return after != spans.begin() && (after - 1)->contains(time);
}

Seconds total_length(const std::vector<Span>& spans) {
  Seconds sum;
  for (const Span& span : spans) sum += span.length();
  return sum;
}

Seconds overlap(const std::vector<Span>& a, const std::vector<Span>& b) {
  Seconds sum;
  for (const Span& x : a) {
    for (const Span& y : b) {
      const Seconds start = std::max(x.start, y.start);
      const Seconds end = std::min(x.end, y.end);
      if (start < end) sum += end - start;
    }
  }
  return sum;
}

}  // namespace

BeatAgreement match_beats(const BeatTrain& reference, const BeatTrain& test, const MatchOptions& options) {
  if (!(options.tolerance.value() > 0)) {
    throw Error{ErrorCode::contract, "match_beats: the tolerance must be positive"};
  }
  const std::vector<Seconds> expected = reference.times();
  const std::vector<Seconds> found = test.times();

  Matching matching{expected.size(), found.size()};
  for (const Pair& pair : pairs_by_distance(expected, found, options.tolerance)) matching.take_if_free(pair);

  Seconds duration = std::max(reference.duration, test.duration);
  if (!expected.empty()) duration = std::max(duration, expected.back());
  const std::vector<Span> excluded = merged_spans(options.exclude, options.skip, duration);
  // Beats may lie beyond that, the last one of a list at its very end: there exclusions hold as well.
  const Seconds ever{std::numeric_limits<double>::infinity()};
  const std::vector<Span> unscored = merged_spans(options.exclude, options.skip, ever);
  const auto scored = [&](Seconds t) { return t >= options.skip && !inside(unscored, t); };

  BeatAgreement result;
  for (std::size_t i = 0; i < expected.size(); ++i) {
    if (!scored(expected[i])) continue;
    if (const auto j = matching.test_of(i); j != unmatched) {
      ++result.true_positives;
      result.error_ms.push_back(1000.0 * (found[static_cast<std::size_t>(j)] - expected[i]).value());
    } else {
      ++result.false_negatives;
      result.missed.push_back(expected[i]);
    }
  }
  for (std::size_t j = 0; j < found.size(); ++j) {
    if (matching.reference_of(j) != unmatched || !scored(found[j])) continue;
    ++result.false_positives;
    result.extra.push_back(found[j]);
  }

  result.excluded = total_length(excluded);
  result.scored = std::max(Seconds{0}, duration - options.skip) - result.excluded;
  const std::vector<Span> unreadable = merged_spans(test.unreadable, options.skip, duration);
  result.unreadable = total_length(unreadable) - overlap(unreadable, excluded);
  return result;
}

BeatAgreement pool(std::span<const BeatAgreement> records, const std::string& name) {
  BeatAgreement sum;
  sum.name = name;
  for (const BeatAgreement& record : records) {
    sum.true_positives += record.true_positives;
    sum.false_negatives += record.false_negatives;
    sum.false_positives += record.false_positives;
    sum.error_ms.insert(sum.error_ms.end(), record.error_ms.begin(), record.error_ms.end());
    sum.scored += record.scored;
    sum.excluded += record.excluded;
    sum.unreadable += record.unreadable;
  }
  return sum;
}

std::vector<SweepPoint> sweep_tolerance(const BeatTrain& reference, const BeatTrain& test,
                                        const MatchOptions& options) {
  constexpr double tolerances_ms[] = {8, 16, 24, 32, 50, 75, 100, 150};
  std::vector<SweepPoint> sweep;
  for (const double ms : tolerances_ms) {
    MatchOptions at = options;
    at.tolerance = Seconds{ms / 1000.0};
    sweep.push_back({at.tolerance, match_beats(reference, test, at).f1_percent()});
  }
  return sweep;
}

}  // namespace pulsewright
