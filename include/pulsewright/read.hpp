/// Stage 1: bytes on disk -> Recording. Also the small files that stand beside recordings: beat annotations, beat times,
/// interval lists, marked spans.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "pulsewright/beats.hpp"
#include "pulsewright/rate.hpp"
#include "pulsewright/recording.hpp"
#include "pulsewright/units.hpp"

namespace pulsewright {

/// How to read a recording whose file does not say everything.
struct ReadOptions {
  std::optional<Hertz> rate =
      std::nullopt;  ///< sampling rate of text without a time column; overrides nothing that the file states
  std::optional<Seconds> start =
      std::nullopt;  ///< keep samples from here on; times still count from the start of the recording
  std::optional<Seconds> end = std::nullopt;  ///< keep samples before this time
  bool hash = true;                           ///< fill `provenance.sha256`
};

/// Reads a recording; the format is recognised by content, not by suffix.
///
/// Known: delimited text (comma, semicolon, tab, blanks; with or without header; `#` and other junk lines before the
/// data; decimal comma; a time column in s, ms, us or as clock time, or `options.rate`), the open record format (named by its path
/// without suffix, or by its header file), EDF and EDF+. The path `-` is standard input, which can hold delimited text.
///
/// A few lines of text that cannot be read, at most one in a hundred and five in a row, are samples that were not recorded, with a warning
/// (`unreadable_lines`); more are refused. Lists of beats, intervals or rates are refused with what reads them.
/// Throws Error{unreadable} naming file, line or byte offset, value and rule. Damage that leaves the rest usable becomes a warning.
[[nodiscard]] Recording read_recording(const std::filesystem::path& path, const ReadOptions& options = {});

/// Picks channels by name or position, in the order asked.
///
/// `selector` is a trimmed name, a position from 1 (`2`), or a position forced with `#` (`#2`) where a name is a
/// number. Throws Error{usage} listing the candidates when nothing, or more than one name, matches.
[[nodiscard]] std::size_t find_channel(const Recording& recording, const std::string& selector);

/// One entry of an annotation file of the open record format (annot(5) of the physionet.org manual).
struct Annotation {
  SampleIndex sample;
  int code = 0;  ///< 1 to 49
  int subtype = 0;
  int channel = 0;
  int number = 0;
  std::string text;  ///< auxiliary text, empty when none
};

/// Reads an annotation file. Throws Error{unreadable} with the byte offset.
[[nodiscard]] std::vector<Annotation> read_annotations(const std::filesystem::path& path);
/// The bytes of an annotation file; samples must not decrease (Error{contract}).
[[nodiscard]] std::string annotation_bytes(const std::vector<Annotation>& annotations);

/// Whether a code of the open annotation format marks a beat: 1-13, 25, 30, 34, 35, 38, 41.
[[nodiscard]] bool is_beat_code(int code);
/// The beat label of such a code; `unlabelled` for codes that are not beats.
[[nodiscard]] BeatLabel label_of_code(int code);

/// How long a list of beats or rates may be: everything after it is worked out for the whole of its span, gaps included.
inline constexpr Seconds longest_list{60.0 * 86400.0};

/// A file of reference or edited beats.
struct BeatFile {
  BeatTrain beats;            ///< accepted beats in time order, with labels where the file has them
  std::vector<Span> flutter;  ///< episodes of ventricular flutter, left out of beat scoring
};

/// Reads beat times in any known form: an annotation file (rate from the record header beside it, else `rate`), a CSV with a
/// column `time_s`, a listing with sample numbers and types in columns, or bare sample numbers from 0 (`rate` needed).
/// Throws Error{unreadable}, also for a recording or a curve of rates, or Error{usage} when `rate` is needed and missing.
[[nodiscard]] BeatFile read_beats(const std::filesystem::path& path, std::optional<Hertz> rate = std::nullopt);

/// Reads a table of heart rates in beats/min: `start_s` and `end_s` (or `window_start_s`, `window_end_s`), or one time in seconds or of a clock a row, which then speaks of the time half
/// a step to either side. Times of a clock count from the first row. The rate is in the column called `column`; unless that is given, in the only one called bpm, rate, hr, pulse, heart rate, or whose unit is
/// bpm. `low_bpm` and `high_bpm` are its interval. An empty cell, zero and less are no rate.
/// Throws Error{unreadable} with the line for text, missing or falling times, and for rates whose median, or one in twenty, is none of a heart in beats/min (hertz, ms);
/// Error{usage} listing the columns when none or several could be meant.
[[nodiscard]] RateSeries read_rates(const std::filesystem::path& path, const std::string& column = "");

/// Whether a table of rates is there, with no more than five a second; of several columns that could hold them one has yet to be named to `read_rates`. Looks at the whole file.
[[nodiscard]] bool holds_rates(const std::filesystem::path& path, const std::string& column = "");

/// Unit of a bare list of intervals.
enum class IntervalUnit { milliseconds, seconds };

/// Reads a bare list of intervals (one a line or separated by blanks or commas) as beats, the first at 0 s.
/// Throws Error{unreadable} for text, tables of several columns, zero or negative values, naming the line, and Error{usage} when the median is an
/// interval between heartbeats (0.2 to 3 s) in the other unit only.
[[nodiscard]] BeatTrain read_intervals(const std::filesystem::path& path, IntervalUnit unit);

/// Reads spans to leave out of scoring: two numbers a line, first and last sample (`rate` given) or start and end in seconds.
[[nodiscard]] std::vector<Span> read_spans(const std::filesystem::path& path, std::optional<Hertz> rate);

/// Hash of a file's bytes (SHA-256, FIPS 180-4), lower-case hexadecimal. Reads in blocks.
[[nodiscard]] std::string sha256_of_file(const std::filesystem::path& path);
/// The same of bytes in memory.
[[nodiscard]] std::string sha256_of_bytes(std::string_view bytes);

}  // namespace pulsewright
