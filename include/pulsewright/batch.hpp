/// One input and all that is asked of it as a value that can be written down, and what came of it as one row: the two ends of every batch, on one
/// machine or on many.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "pulsewright/pipeline.hpp"
#include "pulsewright/read.hpp"

namespace pulsewright {

// ---------------------------------------------------------------------------------------------- what is asked

/// What an input file holds.
enum class InputForm { recording, intervals, beats };

/// An input and everything that is asked of it, before it is opened: channels go by name.
struct Request {
  std::filesystem::path input;
  ReadOptions read;
  std::vector<std::string> channels;  ///< names or positions, as `find_channel` takes them; none: all of the kind
  KindChoice kind = KindChoice::automatic;
  std::optional<std::vector<std::string>> motion;  ///< nothing: every motion channel; empty: none
  bool streaming = false;
  InputForm form = InputForm::recording;
  IntervalUnit unit = IntervalUnit::milliseconds;  ///< of a list of intervals
  std::optional<Hertz> reference_rate;             ///< of beats listed as sample numbers
  RateOptions rate;
  Person person;
  EffortOptions effort;
  std::size_t threads = 1;  ///< how, not what: no option of the result, and none of `options_json`
};

/// The options that differ from their defaults, as one JSON object; the input's path is none of them.
[[nodiscard]] std::string options_json(const Request& request);

/// The request with what a JSON object says in place of its own options; keys as in `options_json`, `null` leaves one alone.
/// Throws Error{usage} naming the key, the value and the rule.
[[nodiscard]] Request with_options(Request request, std::string_view json);

/// Checks what can be checked without opening the input: ages and rates of people, windows, the ends of the target. Throws Error{usage}.
void check(const Request& request);

/// Which channels of a recording are asked for. Throws Error{usage} for names that are not there.
[[nodiscard]] FindOptions find_options(const Request& request, const Recording& recording);
/// The motion channels asked for; nothing for all of them. Throws Error{usage} for a channel of another kind.
[[nodiscard]] std::optional<std::vector<std::size_t>> motion_channels(const Request& request,
                                                                      const Recording& recording);

/// Beats of an input, and the rate track beside them where it is a pulse recording.
struct InputBeats {
  BeatTrain beats;
  std::optional<RateTrack> track;
  std::optional<std::string> clock_start = std::nullopt;  ///< of the recording
};

/// Reads an input in whatever form it is; in a recording its beats are found. Warnings of the reader go with a refusal.
/// Throws what `read_recording`, `read_beats`, `read_intervals` and `find_beats` throw, and Error{usage} when `start` and `end` leave nothing.
[[nodiscard]] BeatTrain beats_of(const Request& request);
/// The same with the clock, and no track.
[[nodiscard]] InputBeats beats_and_clock_of(const Request& request);
[[nodiscard]] InputBeats beats_and_track_of(const Request& request);

/// Every stage on an input, each result stamped with the options unless the review, which comes after that, stamps it otherwise. Throws what they throw.
[[nodiscard]] Analysis analyze_input(const Request& request, const BeatReview& review = {});

/// The same of a recording that was read already: `request.input`, `read` and `form` say nothing.
[[nodiscard]] Analysis analyze(const Recording& recording, const Request& request, const BeatReview& review = {});

// ---------------------------------------------------------------------------------------------- what came of it

/// One record of a batch: how it went, and its main measures.
struct BatchRow {
  enum class Status {
    done,
    no_value,  ///< read, but no beats anywhere, or no heart rate in any window
    failed,
  };

  std::string file;  ///< relative to the folder or list
  Status status = Status::done;
  int exit_code = 0;
  std::string reason;  ///< of a failure, empty when done
  std::string sha256;
  std::optional<double> duration_s;
  std::optional<std::int64_t> beats_count;
  std::optional<double> readable_percent, flagged_percent;
  std::optional<double> mean_hr_bpm, lowest_hr_bpm, peak_hr_bpm;
  std::optional<double> mean_nn_ms, sdnn_ms, rmssd_ms, pnn50_percent;
  std::optional<double> in_target_s, moderate_or_harder_s;
  std::string
      target_method;  ///< `reserve` or `maximum`: what the target and the categories are shares of; empty without a target
  std::string resting_source;  ///< `given` or `lowest_minute`; empty without a resting rate
};

[[nodiscard]] const char* to_string(BatchRow::Status status);

/// The row of a record that went through all stages.
[[nodiscard]] BatchRow batch_row(const std::string& file, const Analysis& analysis);

/// Exit codes of tools/CONTRACT.md, as rows have them.
inline constexpr int no_value_code = 1, usage_code = 2, unreadable_code = 3;

/// The row of a record that could not be worked on; `exit_code` as the program would end.
[[nodiscard]] BatchRow failed_row(const std::string& file, int exit_code, std::string reason);

/// One record from start to end: `analyze_input`, or why not. Paths in messages read as `file`, so that rows are the same wherever records lie.
/// Throws nothing.
[[nodiscard]] BatchRow work_on(const Request& request, const std::string& file);

/// A row as one line of JSON without a line end, and back, digit by digit. `row_of_line` throws Error{unreadable} for anything else.
[[nodiscard]] std::string line_of_row(const BatchRow& row);
[[nodiscard]] BatchRow row_of_line(std::string_view text);

// ---------------------------------------------------------------------------------------------- what they say together

/// A measure over the records that have it.
struct MeasureSummary {
  std::string key;
  std::size_t count = 0;
  double lowest = 0, lower_quartile = 0, median = 0, upper_quartile = 0, highest = 0;
  /// Records outside the fences of Tukey 1977 (Exploratory Data Analysis), 1.5 interquartile ranges beyond the quartiles; positions in `rows`.
  std::vector<std::size_t> outside;
};

struct BatchSummary {
  std::size_t done = 0, no_value = 0, failed = 0;
  double recorded_s = 0;                           ///< length of all records that were read
  std::vector<MeasureSummary> measures;            ///< those that at least one record has
  std::vector<std::vector<std::size_t>> repeated;  ///< records of the same content, in groups, by position in `rows`
};

/// Distributions, outliers and repeated content. Quartiles are interpolated between order statistics (position (n - 1) p). With fewer than five
/// records no record is called an outlier.
[[nodiscard]] BatchSummary summarize(std::span<const BatchRow> rows);

}  // namespace pulsewright
