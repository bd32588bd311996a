/// Stage 7: intervals and variability of a sensor against a reference over many recordings: people, conditions, devices.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "pulsewright/interval_agreement.hpp"
#include "pulsewright/rate_study.hpp"

namespace pulsewright {

struct IntervalStudyOptions {
  MatchOptions match;                                                  ///< its tolerance holds after the delay
  std::optional<Seconds> offset;                                       ///< delay of the test; nothing: the one found
  PairedOptions paired{.margin = 10.0, .seed = 1, .resamples = 2000};  ///< margin in ms
  std::size_t fewest_intervals = 5;                                    ///< a record with fewer is left out
};

/// One pair of recordings as it lies before the comparison.
struct IntervalRecord {
  RecordFacts facts;
  BeatTrain reference, test;
  bool one_clock = false;                           ///< both sides come from one recording
  std::optional<Seconds> by_clocks = std::nullopt;  ///< offset by the times of day at which both begin, as for `align`
  std::string unreadable;                           ///< why it could not be read; then the sides are empty
};

struct ComparedIntervals {
  RecordFacts facts;
  FlowStage reached = FlowStage::recorded;
  std::string left_out;  ///< why it did not get further; empty when analysed
  Seconds offset;        ///< delay that was taken off the test's beats
  std::string note;      ///< where rates would not align and the usual delay stands in: why
  IntervalAgreement agreement;
  Warnings warnings;  ///< of its two sides
};

/// How late the beats of `test` are, on one clock: from 0.3 s early to 0.8 s late, the delay that most beats have and least scatter about. A pulse comes 0.2 to 0.3 s after its R peak and a filter adds
/// its own; by one beat too much or too little delays scatter as intervals do. Nothing where fewer than half of the beats are within 50 ms of it.
[[nodiscard]] std::optional<Seconds> usual_delay(const BeatTrain& reference, const BeatTrain& test);

/// Takes off the delay (that of `options`; else the offset that aligns the two rates, from what the clocks say on; or on one clock, and where rates do not align, the usual one) and compares intervals in the time
/// that both cover. Poor
/// data gives a record that is left out with a reason, not an error.
[[nodiscard]] ComparedIntervals compare_intervals(IntervalRecord record, const IntervalStudyOptions& options = {});

/// A measure of variability over records taken at rest, one pair each.
struct MeasureStudy {
  std::string measure;  ///< its key, which ends in its unit
  PairedAgreement agreement;
};

struct IntervalGroup {
  std::string name;
  std::size_t recorded = 0, records = 0;  ///< listed; analysed
  BeatAgreement beats;                    ///< of the analysed ones together
  PairedAgreement intervals;              ///< in ms
  std::size_t at_rest = 0;                ///< records that the measures rest on
  std::vector<MeasureStudy> measures;

  [[nodiscard]] std::optional<double> missed_percent() const;  ///< of the reference's beats
  [[nodiscard]] std::optional<double> extra_percent() const;   ///< of the test's beats
};

struct IntervalBreakdown {
  std::string by;  ///< as of `Breakdown`
  std::vector<IntervalGroup> groups;
};

struct IntervalStudy {
  std::vector<ComparedIntervals> records;
  std::size_t readable = 0;
  IntervalGroup overall;
  std::vector<IntervalBreakdown> breakdowns;
  std::vector<std::string> people;  ///< codes
  IntervalStudyOptions options;
  Warnings warnings;
};

/// Puts records together. Several of one person (same code) give limits for repeated measures. Warnings: `one_person`, `few_people`, `not_at_rest`, `pulse_transit`, `repeated_content`, `unaligned_records`, `by_clocks`, `clocks_contradicted`, `left_out`, and those of the inputs (`warnings_of_inputs`).
[[nodiscard]] IntervalStudy interval_study(std::vector<ComparedIntervals> records,
                                           const IntervalStudyOptions& options = {});

}  // namespace pulsewright
