#include "pulsewright/interval_agreement.hpp"

#include <algorithm>
#include <cmath>

#include "pulsewright/clean.hpp"

namespace pulsewright {
namespace {

struct MatchedBeat {
  double reference = 0, test = 0;
};

/// Reference beats that were scored and matched, with their partners: `error_ms` has one entry for each, in the same order.
std::vector<MatchedBeat> matched_beats(const std::vector<Seconds>& reference, const BeatAgreement& agreement,
                                       const MatchOptions& options) {
  std::vector<MatchedBeat> matched;
  std::size_t next = 0;
  for (const Seconds time : reference) {
    const bool excluded = std::any_of(options.exclude.begin(), options.exclude.end(),
                                      [time](const Span& span) { return span.contains(time); });
    if (time < options.skip || excluded) continue;
    if (std::binary_search(agreement.missed.begin(), agreement.missed.end(), time)) continue;
    if (next == agreement.error_ms.size()) break;
    matched.push_back({time.value(), time.value() + agreement.error_ms[next++] / 1000});
  }
  return matched;
}

/// Position of a beat among times; its own rounding is forgiven.
std::size_t position_of(const std::vector<Seconds>& times, double time) {
  constexpr double rounding_s = 1e-6;
  return static_cast<std::size_t>(std::lower_bound(times.begin(), times.end(), Seconds{time - rounding_s}) -
                                  times.begin());
}

bool warned(const Variability& v, const char* code) {
  return std::any_of(v.warnings.begin(), v.warnings.end(), [code](const Warning& w) { return w.code == code; });
}

}  // namespace

IntervalAgreement interval_agreement(const BeatTrain& reference, const BeatTrain& test, const MatchOptions& options) {
  IntervalAgreement result;
  result.beats = match_beats(reference, test, options);
  const std::vector<Seconds> expected = reference.times(), found = test.times();
  result.reference_intervals = expected.empty() ? 0 : expected.size() - 1;
  const std::vector<MatchedBeat> matched = matched_beats(expected, result.beats, options);
  for (std::size_t i = 1; i < matched.size(); ++i) {
    const MatchedBeat &a = matched[i - 1], &b = matched[i];
    if (position_of(expected, b.reference) != position_of(expected, a.reference) + 1 ||
        position_of(found, b.test) != position_of(found, a.test) + 1)
      continue;
    PairedValue pair;
    pair.reference = 1000 * (b.reference - a.reference);
    pair.test = 1000 * (b.test - a.test);
    pair.time = Seconds{b.reference};
    result.pairs.push_back(pair);
  }
  constexpr double margin_ms = 10;  // of the equivalence test (ours)
  result.intervals = paired_agreement(result.pairs, {.margin = margin_ms, .seed = 1, .resamples = 0});

  const Variability a = variability(clean(reference)), b = variability(clean(test));
  const auto add = [&result](const char* key, std::optional<double> x, std::optional<double> y) {
    MeasureAgreement measure{key, x, y, std::nullopt, std::nullopt};
    if (x && y) {
      measure.difference = *y - *x;
      if (*x != 0) measure.difference_percent = 100 * (*y - *x) / *x;
    }
    result.measures.push_back(std::move(measure));
  };
  const std::array<std::optional<double> Variability::*, compared_measures.size()> values{
      &Variability::mean_nn_ms, &Variability::sdnn_ms,       &Variability::rmssd_ms,
      &Variability::sdsd_ms,    &Variability::pnn50_percent, &Variability::mean_hr_bpm};
  for (std::size_t i = 0; i < values.size(); ++i) add(compared_measures[i], a.*values[i], b.*values[i]);
  result.at_rest = !warned(a, "not_at_rest");
  if (!result.at_rest)
    result.warnings.push_back({"not_at_rest",
                               "The reference was not taken at rest: agreement of variability measures is stated for "
                               "rest only, and these say little"});
  if (test.source == BeatSource::pulse && reference.source != BeatSource::pulse)
    result.warnings.push_back({"pulse_transit",
                               "The test is a pulse: the time from the heart to the sensor changes from beat to beat, "
                               "so that short-term measures (RMSSD, SDSD, "
                               "pNN50) of the pulse come out larger than the heart's even where every beat is found"});
  return result;
}

}  // namespace pulsewright
