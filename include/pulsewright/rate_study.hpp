/// Stage 7: heart rate of a sensor against a reference, for one recording or a study of many people: time alignment, pairs on common windows, agreement, and
/// what published rules make of it.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "pulsewright/beats.hpp"
#include "pulsewright/paired_agreement.hpp"
#include "pulsewright/rate.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright {

/// One side of a comparison: rates over windows and, where some of them came from beats, the beats that can be trusted.
struct RateSide {
  RateSeries rates;
  std::optional<BeatTrain> beats;
};

// ---------------------------------------------------------------------------------------------- alignment

/// What is done about two clocks.
enum class AlignmentSteps {
  none,              ///< they are taken as they are
  offset,            ///< one shift
  offset_and_drift,  ///< a shift that grows evenly with time
};
[[nodiscard]] const char* to_string(AlignmentSteps steps);

struct AlignmentOptions {
  AlignmentSteps steps = AlignmentSteps::offset_and_drift;
  Seconds farthest{30.0};  ///< offsets are looked for up to here, either way of none, or of what the clocks say
  /// The courses must correlate at least so well at the best offset. More is asked of short records: 4 standard errors of Fisher's z above nothing, one
  /// independent value every 5 s, because hundreds of offsets are tried (ours).
  double least_correlation = 0.5;
  Seconds least_common{60.0};       ///< with less in common nothing is aligned
  Seconds least_for_drift{1200.0};  ///< drift is only asked of records with so much in common
  /// Apply what was found only where it differs from none by more than two standard errors and, from rates alone, brings the two nearer to each other by
  /// more than two standard errors of the gain.
  bool only_where_demanded = true;
};

/// The offset found from beats in one stretch.
struct StretchOffset {
  Seconds at;      ///< its middle, on the reference's clock
  Seconds offset;  ///< test's clock minus reference's
};

/// What became of the times of day at which both sides say they begin.
enum class StatedClocks {
  unstated,      ///< not both say one, or nothing was to be aligned
  followed,      ///< they gave the offset to start from, or the only one
  contradicted,  ///< the rates say otherwise, or they leave nothing in common
};

/// How the test's clock relates to the reference's: test time = reference time + offset + drift x reference time.
///
/// The offset holds whatever delays the test: a pulse arrives 0.2 to 0.3 s after its R peak, and a device that averages shows a rate some seconds late.
struct Alignment {
  AlignmentSteps applied = AlignmentSteps::none;
  Seconds offset;                         ///< 0 when none was applied
  double drift_ppm = 0;                   ///< positive: the test's clock runs fast; 0 when none was applied
  std::optional<Seconds> found_offset;    ///< the best one at the middle of the record, applied or not
  std::optional<double> found_drift_ppm;  ///< the best one, applied or not; nothing when none was looked for
  std::optional<Seconds> offset_error;    ///< standard error of the offset found
  std::optional<double> drift_error_ppm;  ///< standard error of the drift found
  std::optional<double>
      gain_bpm;  ///< by how much it makes the mean absolute difference smaller than none, or the clocks', does
  std::optional<double> gain_error_bpm;      ///< standard error of that
  std::optional<double> correlation;         ///< of the courses at the best offset
  std::optional<double> correlation_before;  ///< at no offset, or at the clocks'
  Seconds common;                            ///< time in which both courses are known there
  std::string note;  ///< why it was refused, was not asked for or not demanded, and what the clocks say; else empty
  StatedClocks clocks = StatedClocks::unstated;
  bool refused = false;
  std::vector<StretchOffset> stretches;

  [[nodiscard]] Seconds to_reference(Seconds test) const;
};

/// Finds offset and drift from the courses of rate, and says whether the data demand them.
///
/// Both courses are put on a grid of 0.25 s (from beats: the corrected intervals, smoothed as long as the other side's windows where that has no beats),
/// freed of their running mean over 60 s, and correlated at every offset up to `farthest`. From the best one on, offset and drift are fitted to the windows of one side and the rate of the
/// other at any time, so that most of them agree; a few wrong rates do not count. Where both sides have beats, the offsets are measured once more from beats
/// matched one to one, medians over minutes, and the line through them (Theil 1950, Sen 1968: median of slopes). Rates alone tell an offset to a tenth of a second and the drift of an
/// hour to some 20 ppm; there a drift of less than three standard errors is taken for none. The offset must lie within `farthest`: breathing repeats, and may fit at a wrong place when the right one is
/// not looked at.
/// Refused, with the reason in `note`: too little in common; a course that does not vary; too weak a correlation; two offsets that do nearly as well; a best
/// offset at the end of the range; none near it at which rates agree.
///
/// `by_clocks`: the offset by the times of day at which both sides say they begin. It is where the search starts, and what is applied where the rates demand nothing else, or tell nothing. Where nothing
/// is found near it, it is looked for as if the clocks said nothing. Rates that say otherwise by more than 2 s and two standard errors, contradict them and are
/// followed; clocks that leave nothing in common are contradicted too.
[[nodiscard]] Alignment align(const RateSide& reference, const RateSide& test, const AlignmentOptions& options = {},
                              std::optional<Seconds> by_clocks = std::nullopt);

// ---------------------------------------------------------------------------------------------- one record

/// What the columns of a study say of one pair of recordings. Empty where they say nothing.
struct RecordFacts {
  std::string name;       ///< of the pair
  std::string person;     ///< a code; each record is its own person where it is empty
  std::string condition;  ///< `walking`, `rest`, ...
  std::string device;
  std::string skin_tone;
  std::string sex;
  std::string criterion;  ///< what the reference is: `ecg`, `chest strap`, `monitor`, ...
  std::optional<double> bmi;
};

struct StudyRecord {
  RecordFacts facts;
  RateSide reference, test;
  bool one_clock = false;                           ///< both sides come from one recording: nothing is aligned
  std::optional<Seconds> by_clocks = std::nullopt;  ///< offset by the times of day at which both begin, as for `align`
  std::string unreadable;                           ///< why it could not be read; then the sides are empty
};

struct StudyOptions {
  AlignmentOptions alignment;
  PairedOptions paired;
  /// Where neither side brings windows, rates are taken over these.
  RateOptions rates;
  /// A record with fewer pairs is left out.
  std::size_t fewest_pairs = 5;
  /// A record whose alignment was refused is compared as it is; false leaves it out.
  bool keep_unaligned = true;
};

/// Where a record stopped in the flow of exclusions.
enum class FlowStage { recorded, readable, aligned, analysed };
[[nodiscard]] const char* to_string(FlowStage stage);

/// Two rates for one window, or the reason why there are not two.
struct WindowCounts {
  std::size_t reference = 0;           ///< windows of the reference
  std::size_t reference_answered = 0;  ///< with a rate
  std::size_t common = 0;              ///< of those, inside the time that the test covers
  std::size_t answered = 0;            ///< of those, with a rate of the test: the pairs
  /// Share of the common windows that the test did not answer, in per cent; nothing when there are none.
  [[nodiscard]] std::optional<double> missing_percent() const;
};

struct ComparedRecord {
  RecordFacts facts;
  FlowStage reached = FlowStage::recorded;
  std::string left_out;  ///< why it did not get further; empty when analysed
  bool one_clock = false;
  Alignment alignment;
  WindowCounts counts;              ///< after alignment
  Seconds common;                   ///< time that both sides cover, after alignment
  std::vector<PairedValue> before;  ///< pairs without alignment
  std::vector<PairedValue> pairs;   ///< pairs with it; `person` and `condition` are given by the study
  std::optional<double> before_mean_absolute_error, mean_absolute_error, bias;
  std::optional<double> found_mean_absolute_error;  ///< with the offset that was found, where that was not applied
  Warnings warnings;                                ///< of its two sides
};

/// Compares one record. Series of readings shorter than half of the other side's windows are averaged over those; otherwise the windows are the reference's own,
/// and the test's rate is read off at their middles, between its two nearest windows where they do not coincide and are no further apart than two of its steps.
/// Poor data gives a record that is left out with a reason, not an error.
[[nodiscard]] ComparedRecord compare_record(const StudyRecord& record, const StudyOptions& options = {});

// ---------------------------------------------------------------------------------------------- the study

/// Records that share a condition, a device, ...
struct GroupAgreement {
  std::string name;
  std::size_t recorded = 0;   ///< records that were listed
  std::size_t records = 0;    ///< those that were analysed
  PairedAgreement agreement;  ///< of the analysed ones
  WindowCounts
      counts;  ///< of all that could be read: a record in which the test shows nothing is missing, not left aside
};

/// A study in groups by one of its columns.
struct Breakdown {
  std::string by;  ///< `condition`, `device`, `skin_tone`, `sex`, `bmi`
  std::vector<GroupAgreement>
      groups;  ///< in the order in which they first occur; of body mass index from the lowest up
};

/// Groups of adults by body mass index in kg/m2, with bounds at 18.5, 25 and 30 (WHO 2000, Technical Report Series 894).
[[nodiscard]] std::string bmi_group(double bmi);

/// How many records and how much of them were left at each step.
struct ExclusionFlow {
  std::size_t recorded = 0, readable = 0, aligned = 0, analysed = 0;  ///< records
  WindowCounts windows;
};

/// What a published rule says about the study.
struct Verdict {
  std::string rule;         ///< `EC13`, `CTA-2065`
  std::string source;       ///< where it stands
  std::string needs;        ///< what it asks for, in words
  std::string found;        ///< what this study has, in words
  std::optional<bool> met;  ///< nothing when the study cannot say
};

struct RateStudy {
  std::vector<ComparedRecord> records;
  ExclusionFlow flow;
  PairedAgreement before, overall;
  std::vector<Breakdown> breakdowns;  ///< by each of the five columns, those that no record states without groups
  std::vector<Verdict> verdicts;      ///< of the rules of accuracy
  std::vector<Verdict> checklist;     ///< of how a validation study is to be made
  std::vector<std::string> people;    ///< codes; a pair's `person` is a position here
  StudyOptions options;
  Warnings warnings;

  /// The groups by a column; none where it is not stated.
  [[nodiscard]] std::span<const GroupAgreement> groups_by(std::string_view column) const;
};

/// Puts records together. Records of one person (same code) count as one person. Warnings: `one_person`, `few_people` (below five), `overlapping_windows`, `duplicated_records` (the same person,
/// condition and device twice), `repeated_content` (records listed as different ones hold the same), `unaligned_records`, `by_clocks`, `clocks_contradicted`, `constant_series`, `left_out`, and those of the inputs (`warnings_of_inputs`). No records, or none analysed: everything absent.
[[nodiscard]] RateStudy rate_study(std::vector<ComparedRecord> records, const StudyOptions& options = {});

}  // namespace pulsewright
