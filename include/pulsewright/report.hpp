/// Stage 8: results -> CSV, JSON, plain text, HTML and SVG. Exporters take finished results and give strings; nothing here measures or prints.
#pragma once

#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "pulsewright/agreement.hpp"
#include "pulsewright/batch.hpp"
#include "pulsewright/beat_edits.hpp"
#include "pulsewright/beat_study.hpp"
#include "pulsewright/effort.hpp"
#include "pulsewright/pipeline.hpp"
#include "pulsewright/rate.hpp"

namespace pulsewright {

/// Version of every JSON document and CSV layout the program writes.
inline constexpr int schema_version = 1;

// ---------------------------------------------------------------------------------------------- numbers

/// How numbers are written. Independent of the process's locale.
struct NumberStyle {
  char decimal = '.';
  char separator = ',';  ///< between CSV cells
};

/// The style a spreadsheet set to `locale` reads: `de`, `de_DE`, `de-AT` and the like give a decimal comma and semicolons, `en` a point and commas.
/// Nothing when the language is not known.
[[nodiscard]] std::optional<NumberStyle> spreadsheet_style(std::string_view locale);

/// Fixed decimals, rounded to nearest on the shortest decimal value that names the number (0.285 to two decimals is 0.29), halves away from zero;
/// never `-0`. Nothing, and what is not finite, becomes an empty string. `decimals` is 0 to 15.
[[nodiscard]] std::string format_number(std::optional<double> value, int decimals, const NumberStyle& style = {});

/// A time as people read it on a stop watch: `4:32`, `1:04:32`; whole seconds, halves up.
[[nodiscard]] std::string format_clock(Seconds time);

/// Beats/min as people read them: nearest whole, halves up. A rate within 1e-9 of a half counts as that half, so that 75 + 0.85 x 130 is 186.
[[nodiscard]] long whole_beats(BeatsPerMinute rate);

// ---------------------------------------------------------------------------------------------- tables

/// How a comparison of beats was scored, for its report.
struct BeatComparison {
  BeatAgreement agreement;
  std::vector<SweepPoint> sweep;  ///< empty when none was made
  Warnings warnings;              ///< of the test's beats
};

/// A record of a study that could not be scored.
struct LeftOutRecord {
  std::string name, reason;
};

/// Several records against their references: a row each, then all beats pooled.
struct BeatComparisonTable {
  std::vector<BeatComparison> records;
  BeatComparison gross;
  std::vector<BeatGroup> groups;  ///< of a study, by its columns
  std::vector<LeftOutRecord> left_out;
  Warnings warnings;
};

/// The share of a train's duration in which beats could be looked for, 0 to 100; nothing when it has no duration.
[[nodiscard]] std::optional<double> readable_percent(const BeatTrain& beats);

/// Which beats of a train are listed, and what is said of each.
struct BeatListing {
  bool rejected = false;  ///< rejected candidates too, with their verdicts
  bool feet = false;      ///< where the upstroke of each pulse begins
  bool labels = false;    ///< what kind of beat each is; of JSON always
};

/// CSV of each stage; columns as in tools/CONTRACT.md.
[[nodiscard]] std::string recording_csv(const Recording& recording, const NumberStyle& style = {});
[[nodiscard]] std::string beats_csv(const BeatTrain& beats, const BeatListing& listing = {},
                                    const NumberStyle& style = {});
[[nodiscard]] std::string intervals_csv(const Intervals& intervals, const NumberStyle& style = {});
[[nodiscard]] std::string rate_csv(const RateSeries& rates, const NumberStyle& style = {});
[[nodiscard]] std::string variability_csv(const Variability& result, const NumberStyle& style = {});
[[nodiscard]] std::string variability_windows_csv(std::span<const VariabilityWindow> windows,
                                                  const NumberStyle& style = {});
[[nodiscard]] std::string effort_csv(const Effort& result, const NumberStyle& style = {});
[[nodiscard]] std::string target_csv(const TargetZone& target, const NumberStyle& style = {});
[[nodiscard]] std::string agreement_csv(const BeatComparison& result, const NumberStyle& style = {});
[[nodiscard]] std::string agreement_csv(const BeatComparisonTable& comparison, const NumberStyle& style = {});
[[nodiscard]] std::string batch_csv(std::span<const BatchRow> rows, const NumberStyle& style = {});

// ---------------------------------------------------------------------------------------------- documents

/// JSON of each stage: keys in snake_case ending in their unit, absent values null and explained under `reasons`.
[[nodiscard]] std::string recording_json(const Recording& recording);
[[nodiscard]] std::string beats_json(const BeatTrain& beats, const BeatListing& listing = {});
[[nodiscard]] std::string intervals_json(const Intervals& intervals);
[[nodiscard]] std::string rate_json(const RateSeries& rates);
[[nodiscard]] std::string variability_json(const Variability& result);
[[nodiscard]] std::string adjudication_json(const EditComparison& comparison, const Provenance& provenance);
[[nodiscard]] std::string variability_windows_json(std::span<const VariabilityWindow> windows,
                                                   const SlidingOptions& options, const Warnings& warnings,
                                                   const Provenance& provenance);
[[nodiscard]] std::string effort_json(const Effort& result);
[[nodiscard]] std::string analysis_json(const Analysis& result);
[[nodiscard]] std::string target_json(const TargetZone& target, const Person& person, const Provenance& provenance);
[[nodiscard]] std::string agreement_json(const BeatComparison& result, const MatchOptions& options,
                                         const Provenance& provenance);
[[nodiscard]] std::string agreement_json(const BeatComparisonTable& table, const MatchOptions& options,
                                         const Provenance& provenance);
[[nodiscard]] std::string batch_json(std::span<const BatchRow> rows, const Provenance& provenance);

// ---------------------------------------------------------------------------------------------- pages

/// Text for a person at a terminal: every number with its unit, every judgement with its rule. Lines are at most 100 characters where names allow;
/// lists are summed up.
[[nodiscard]] std::string recording_text(const Recording& recording);
[[nodiscard]] std::string beats_text(const BeatTrain& beats);
[[nodiscard]] std::string intervals_text(const Intervals& intervals);
[[nodiscard]] std::string rate_text(const RateSeries& rates);
[[nodiscard]] std::string variability_text(const Variability& result);
[[nodiscard]] std::string variability_windows_text(std::span<const VariabilityWindow> windows);
[[nodiscard]] std::string adjudication_text(const EditComparison& comparison);
[[nodiscard]] std::string effort_text(const Effort& result);
[[nodiscard]] std::string analysis_text(const Analysis& result);
[[nodiscard]] std::string target_text(const TargetZone& target, const Person& person);
[[nodiscard]] std::string agreement_text(const BeatComparison& result, const MatchOptions& options);
[[nodiscard]] std::string agreement_text(const BeatComparisonTable& table, const MatchOptions& options);
/// A line of JSON a record, with unrounded numbers and without absent values: what a journal holds.
[[nodiscard]] std::string batch_lines(std::span<const BatchRow> rows);
[[nodiscard]] std::string batch_text(std::span<const BatchRow> rows);

/// The cautions that stand under everything that speaks of effort.
[[nodiscard]] std::string_view cautions();

// ---------------------------------------------------------------------------------------------- reports

/// The language of a report.
enum class Language { english, german, spanish };

/// The language of a tag: `en`, `de`, `es`; nothing when there are no words for it.
[[nodiscard]] std::optional<Language> language_of(std::string_view tag);

/// What a report of one session is made from. Without the recording and its signals (beats from a list) it has no figures of the signal.
struct SessionView {
  const Analysis& analysis;
  const Recording* recording = nullptr;
  const ChosenSignals* chosen = nullptr;  ///< of `recording`; goes with it
};

/// A session for people: one HTML file that needs nothing else, opens without a network, prints on A4 and Letter, and reads without scripts. First a summary whose
/// numbers carry their place in the JSON document (`<data value data-key>`), then figures, each with a text alternative and its data as CSV, then numbers and
/// where they come from. What was not measured is hatched and named.
/// Messages of the stages (warnings, reasons) are English in every language. Throws Error{contract} when only one of recording and signals is given.
[[nodiscard]] std::string session_report(const SessionView& session, Language language = Language::english);

/// Many records for people, as one HTML file like a session's: what came of them, distributions, records far from the others, failures with their reasons, and a
/// table to sort, of the first two thousand.
[[nodiscard]] std::string batch_report(std::span<const BatchRow> rows, const Provenance& provenance,
                                       Language language = Language::english);

/// The same few seconds at every step from samples to heart rate, as one HTML file like the session's. The seconds are those with the most doubtful
/// intervals or rejected candidates. `options` are those that the beats were found with.
/// Throws Error{contract} without recording and signals.
[[nodiscard]] std::string workings_page(const SessionView& session, const FindOptions& options = {},
                                        Language language = Language::english);

/// A figure as a file.
struct FigureFile {
  std::string name;  ///< without suffix
  std::string svg;
};

/// The figures of the session report one by one, in the light theme; of the strip, the chosen excerpts. Throws as `session_report`.
[[nodiscard]] std::vector<FigureFile> session_figures(const SessionView& session,
                                                      Language language = Language::english);

// ---------------------------------------------------------------------------------------------- files

/// Whether something is there that is neither a file nor a folder: a device or a pipe, in place of which no file is put.
[[nodiscard]] bool is_device_or_pipe(const std::filesystem::path& path);

/// Writes a file so that it appears complete or not at all. Throws Error{unwritable}, also for a device or a pipe.
void write_file(const std::filesystem::path& path, std::string_view bytes);

}  // namespace pulsewright
