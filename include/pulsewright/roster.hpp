/// Who is in the class, and which recording is whose: the two lists that a teacher writes.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "pulsewright/person.hpp"
#include "pulsewright/recording.hpp"

namespace pulsewright {

struct Roster {
  std::vector<Person> people;  ///< in the order of the file, codes all different
  Warnings warnings;
  Provenance provenance;

  /// The person of a code; null when there is none.
  [[nodiscard]] const Person* find(const std::string& code) const;
};

/// Reads a roster: a CSV table with the columns `code` and any of `age_years`, `sex` (female, male or empty), `resting_bpm`, `maximum_bpm` (measured),
/// `ceiling_bpm` (a limit set by a professional), `exercise` (legs, arms, wheelchair); or JSON `{"people": [{"code": "wren", ...}]}` with the same keys.
/// Cells may be empty. Other columns are left out with a warning; one that holds names is better deleted, and the warning says so.
///
/// Throws Error{unreadable} that lists every fault by line (by position in JSON): a code that is missing, occurs twice, or holds other characters than letters, digits, `-` and
/// `_`; an age not from 1 to 120 years; a resting rate not from 25 to 150, a maximum not from 60 to 250, a ceiling not from 25 to
/// 250 beats/min; a resting rate not below the measured maximum, or not below 220 - age.
[[nodiscard]] Roster read_roster(const std::filesystem::path& path);

/// One line of a session sheet: whose recording, or whose stretch of a shared sensor.
struct SheetEntry {
  std::int64_t line = 0;
  std::string code;
  std::filesystem::path file;  ///< as written, relative paths taken from the folder of the sheet
  std::string file_name;       ///< as written
  std::string channel;         ///< a name or position; empty for all
  /// The stretch, in seconds from the start of the file or as a time of day.
  std::optional<Seconds> from, to;
  std::optional<double> from_time_of_day_s, to_time_of_day_s;
  std::optional<double> file_begins_s;  ///< time of day of the file's second 0
  std::string activity;
  std::optional<int> exertion;  ///< perceived, 6 to 20
  std::optional<std::filesystem::path> marks;
  std::optional<double> performance;  ///< the outside measure
};

/// The outside measure of performance that a sheet holds.
struct PerformanceMeasure {
  std::string name;            ///< of its column; empty without one
  bool more_is_better = true;  ///< false for `place` and `time_s`
};

struct SessionSheet {
  std::vector<SheetEntry> entries;
  PerformanceMeasure performance;
  Warnings warnings;
  Provenance provenance;
};

/// Reads a session sheet: a CSV table with the columns `code`, `file`, and any of `channel`, `from`, `to` (seconds of the file, or a time of day
/// such as 10:05:30), `file_begins` (the time of day at which the file starts, where it does not say), `activity`, `exertion` (6 to 20), `marks` (a file of
/// phase marks), and one of `laps`, `distance_m`, `score` (more is better), `place`, `time_s` (less is better).
/// Throws Error{unreadable} that lists every fault by line.
[[nodiscard]] SessionSheet read_session_sheet(const std::filesystem::path& path);

/// The stretch of an entry in seconds of its file. `clock_start` is the recording's own (ISO 8601), used where the sheet does not say when the file begins. Either end may be
/// open. Throws Error{unreadable} naming the line when a time of day cannot be placed, or the stretch is empty.
struct OpenSpan {
  std::optional<Seconds> start, end;
};
[[nodiscard]] OpenSpan stretch_of(const SheetEntry& entry, const std::optional<std::string>& clock_start);

/// The time of day of a file's second 0: the sheet's, else that of the recording; nothing when neither is known.
[[nodiscard]] std::optional<double> begins_at(const SheetEntry& entry, const std::optional<std::string>& clock_start);

}  // namespace pulsewright
