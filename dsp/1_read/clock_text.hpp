/// Times of day and dates in text cells.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace pulsewright::reading {

/// A time as a cell shows it.
struct ClockTime {
  std::optional<std::int64_t> day;   ///< days since 1970-01-01, when the cell has a date
  bool has_time = false;             ///< false: only a date
  bool of_day = false;               ///< hours, minutes and seconds: a time of day rather than minutes and seconds
  double second = 0;                 ///< of the day, or elapsed
  double resolution = 1;             ///< value of the last digit shown, in seconds
  std::optional<std::int64_t> zone;  ///< seconds east of Greenwich, when the cell says so
};

/// Reads `hh:mm:ss[.fff]`, `mm:ss[.fff]` (elapsed), `yyyy-mm-dd`, `yyyy/mm/dd`, `dd.mm.yyyy`, a date and a time with `T` or a blank between
/// them, `Z` or `+hh:mm` behind; a comma may stand for the point, square brackets around it are ignored. Dates whose order of day and month
/// is a guess (`03/04/2024`) are not read. Nothing when the text is none of these.
[[nodiscard]] std::optional<ClockTime> parse_clock(std::string_view text);

/// ISO 8601 with as many decimals as needed, three at most: `2024-03-01T10:00:00`, `10:00:00.250`, `...Z`.
[[nodiscard]] std::string iso_of(const ClockTime& time);

}  // namespace pulsewright::reading
