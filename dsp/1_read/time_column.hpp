/// Which column of a text file holds the time, and in what unit.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "pulsewright/error.hpp"
#include "text_layout.hpp"

namespace pulsewright::reading {

enum class TimeUnit { nanoseconds, microseconds, milliseconds, seconds, minutes, samples, clock };

/// What one step of the unit is in seconds; 0 for samples and clock times.
[[nodiscard]] double seconds_in(TimeUnit unit);

/// The unit that the header of a time column states: `time_ms`, `elapsed (min)`, `millis`.
[[nodiscard]] std::optional<TimeUnit> stated_unit(const ColumnName& name);

struct TimeColumn {
  std::size_t column = 0;
  TimeUnit unit = TimeUnit::seconds;
  std::optional<std::size_t> date_column;  ///< a separate column of dates
  bool counts_from_1970 = false;           ///< numbers so large that they count from 1970-01-01
};

/// Whether a header cell names a time column: time, t, timestamp, elapsed, millis, micros, seconds, clock, datetime and their like, Zeit, Uhrzeit,
/// temps, heure, tiempo, hora and words of some more languages, with or without a unit.
[[nodiscard]] bool is_time_name(std::string_view cell);
/// The names to suggest in a message.
[[nodiscard]] std::string_view time_name_examples();

/// Whether the numbers of a column rise in at least eight of the looked-at rows, in every row, by nearly equal steps.
[[nodiscard]] bool rises_evenly(const TextLayout& layout, std::size_t column);

/// Finds the time column: one whose name says so; a column of clock times; or, without names, a first column of at least eight numbers in
/// strictly rising, nearly equal steps beside other columns. A column called `sample`, `index` or the like counts samples at the known rate.
///
/// A nameless column beside a known rate is a clock only if it runs at that rate (within 2 %) or counts samples.
///
/// A unit that is not stated is told from the size of the step and reported as warning `time_unit_assumed`: below 1 or with decimals it is
/// seconds, from 1 to 100 milliseconds, above that microseconds; numbers above 10^9 count from 1970.
[[nodiscard]] std::optional<TimeColumn> find_time_column(const TextLayout& layout, std::optional<double> known_rate,
                                                         const std::string& file, Warnings& warnings);

}  // namespace pulsewright::reading
